"""Reading a procedure: the whole of it on one page, and the schema of its document."""

from __future__ import annotations

from django.core.cache import cache
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from procedures.access import anyone, may_edit, procedure_reader
from procedures.engine.document import LEVELS
from procedures.engine.schema import schema
from procedures.models import Procedure
from procedures.printing.sheets import SHEETS

from .following import resume_of
from .wanted import Wanted, wanted_by

KEPT = 30 * 24 * 3600  # seconds


@procedure_reader
@require_safe
def read(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the whole procedure. The body is rendered once for the same content."""
    wanted = wanted_by(request, procedure)
    context = {
        "procedure": procedure,
        "wanted": wanted,
        "level": LEVELS[wanted.document.level],
        "views": views_of(request, wanted),
        "sheets": SHEETS,
        "resume": resume_of(request, wanted),
        "is_owner": may_edit(request.user, procedure),
        "body": body_of(wanted),
    }
    return render(request, "procedures/read/page.html", context)


def body_of(wanted: Wanted) -> SafeString:
    """Return the part of the page that is the same for all its readers."""
    key = wanted.key("read")
    body: str | None = cache.get(key)
    if body is None:
        body = render_to_string("procedures/read/_body.html", {"shown": wanted.shown()})
        cache.set(key, body, KEPT)
    return SafeString(body)  # a template made it


def views_of(request: HttpRequest, wanted: Wanted) -> list[dict[str, object]]:
    """Return the two ways to reckon, as links that keep the rest of the address."""
    query = request.GET.copy()
    query.pop("view", None)
    kept = query.urlencode().removesuffix("=")
    links = []
    for text, nominal in (("With scale", False), ("Nominal", True)):
        asked = "&".join(one for one in (kept, "view=nominal" if nominal else "") if one)
        links.append(
            {
                "text": text,
                "href": f"?{asked}" if asked else request.path,
                "current": wanted.nominal == nominal,
            }
        )
    return links


@anyone
@require_safe
@cache_control(public=True, max_age=3600)
def document_schema(request: HttpRequest) -> HttpResponse:
    """Anyone: the JSON Schema of a procedure's document."""
    return JsonResponse(schema(), json_dumps_params={"ensure_ascii": False, "indent": 2})
