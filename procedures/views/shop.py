"""A procedure kept on the phone for the shop: one page of all its screens, and what to keep with it.

Nothing here depends on who asks: what is kept on a shared phone says nothing about who kept it.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.files.storage import default_storage
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.templatetags.static import static
from django.urls import reverse
from django.utils.safestring import SafeString
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures import queries
from procedures.access import anyone, procedure_reader
from procedures.models import Procedure
from procedures.presenting.kept import kept

from .engine import engine_addresses, engine_files
from .following import Screen, run_of, shop_address
from .shown_photos import photo_finder
from .wanted import Wanted, readable

WORKER = "js/service_worker.js"
SHELL = (
    "css/",
    "fonts/",
    "icons/",
    "js/",
    "django_htmx/htmx-2.min.js",
)  # the static files that every page is made of
VIEWS = {"scale": False, "nominal": True}


def screens(wanted: Wanted) -> list[Screen]:
    """Return all screens of a procedure in order."""
    return [
        Screen(wanted, index, number)
        for index, part in enumerate(wanted.parts)
        for number in range(len(part.get("steps", ())) + 2)
    ]


def wanted_of(procedure: Procedure, revision: int, units: str, view: str) -> Wanted:
    """Return what an address of a kept page asks for. Raises Http404."""
    found = queries.public_revision(procedure, revision)
    if found is None or units not in UNIT_SYSTEMS or view not in VIEWS:
        raise Http404("There is no such page to keep.")
    return Wanted(procedure, found, UNIT_SYSTEMS[units], nominal=VIEWS[view])


@procedure_reader
@readable
@require_safe
@cache_control(public=True, max_age=3600)
def shop(request: HttpRequest, procedure: Procedure, revision: int, units: str, view: str) -> HttpResponse:
    """Who may read it, of what is published: all screens on one page, the same for everybody."""
    wanted = wanted_of(procedure, revision, units, view)
    context = {"wanted": wanted, "body": body_of(wanted), "worker": static("js/shop/engine_worker.js")}
    return render(request, "procedures/shop/page.html", {**context, "data": data_of(wanted)})


def body_of(wanted: Wanted) -> SafeString:
    """Return all screens, made once."""
    return kept(wanted.key("shop"), lambda: _made(wanted))


def _made(wanted: Wanted) -> str:
    all_of_them = screens(wanted)
    return render_to_string("procedures/shop/_screens.html", {"screens": all_of_them, "wanted": wanted})


def data_of(wanted: Wanted) -> dict[str, Any]:
    """Return what the page's scripts need: the document and where the engine is."""
    return {**run_of(wanted), "document": wanted.stored, "engine": engine_addresses()}


@procedure_reader
@readable
@require_safe
def to_keep(request: HttpRequest, procedure: Procedure, revision: int, units: str, view: str) -> HttpResponse:
    """Who may read it, of what is published: every file to keep, with its size in bytes.

    `latest` is the newest revision, so that what was kept can say that there is a newer one.
    """
    wanted = wanted_of(procedure, revision, units, view)
    page = shop_address(wanted)
    size = len(body_of(wanted).encode()) + len(str(wanted.stored))
    photos = dict(_photos(wanted))
    return JsonResponse(
        {
            "title": wanted.title,
            "page": page,
            "revision": revision,
            "latest": procedure.latest.number if procedure.latest else revision,
            "files": {page: size, reverse("procedures:on_this_phone"): 0, **_shell(), **photos},
            "engine": engine_files(),
        }
    )


def _photos(wanted: Wanted) -> Iterator[tuple[str, int]]:
    """Yield the address of every photo that is shown, in its middle width, with its size."""
    find = photo_finder(wanted.procedure)
    for part in wanted.document.parts:
        for step in part.steps:
            for photo in filter(None, map(find, step.photos)):
                yield photo.src, default_storage.size(photo.path)


def _shell() -> dict[str, int]:
    """Return the static files that every page is made of, with their sizes."""
    found: dict[str, int] = {}
    for finder in get_finders():
        for name, storage in finder.list(None):
            path = name.replace("\\", "/")  # Windows lists with backslashes
            if path.startswith(SHELL) and not path.endswith(("LICENSE", ".md")) and path != WORKER:
                found[static(path)] = storage.size(name)
    return found


@anyone
@require_safe
@cache_control(public=True, max_age=0)
def on_this_phone(request: HttpRequest) -> HttpResponse:
    """Anyone: what this phone has kept, which only the phone knows; also shown where there is no signal."""
    return render(request, "procedures/shop/on_this_phone.html")


@anyone
@require_safe
@cache_control(public=True, max_age=0)
def service_worker(request: HttpRequest) -> HttpResponse:
    """Anyone: the script that serves what is kept; at the root, since it may only serve below itself."""
    found = next(filter(None, (finder.find(WORKER) for finder in get_finders())))
    return HttpResponse(Path(found).read_bytes(), content_type="text/javascript")


@anyone
@require_safe
@cache_control(public=True, max_age=86400)
def manifest(request: HttpRequest) -> JsonResponse:
    """Anyone: what a phone needs to put the site on its home screen."""
    return JsonResponse(
        {
            "name": "forgesite",
            "short_name": "forgesite",
            "description": "Forging procedures, step by step, beside the forge.",
            "start_url": reverse("procedures:on_this_phone"),
            "scope": "/",
            "display": "standalone",
            "background_color": "#f1f0ea",
            "theme_color": "#1a1a1a",
            "lang": settings.LANGUAGE_CODE,
            "icons": [
                {"src": static("icons/app-192.png"), "sizes": "192x192", "type": "image/png"},
                {"src": static("icons/app-512.png"), "sizes": "512x512", "type": "image/png"},
                {
                    "src": static("icons/app-512.png"),
                    "sizes": "512x512",
                    "type": "image/png",
                    "purpose": "maskable",
                },
            ],
        },
        content_type="application/manifest+json",
    )
