"""Reading a procedure: the whole of it on one page, and the schema of its document."""

from __future__ import annotations

from time import monotonic

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.utils.cache import patch_vary_headers
from django.utils.safestring import SafeString
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from procedures import queries
from procedures.access import anyone, may_edit, procedure_reader
from procedures.engine.schema import schema
from procedures.models import Procedure
from procedures.presenting.kept import keep, recalled

from .citations import citation_of
from .following import resume_of
from .follows import follow_of
from .open_web import head_of
from .said_of import counted, said_of
from .stages import last_stages
from .stretches import PATIENCE, Drawings, is_phone, waiting_of
from .wanted import Wanted, readable, wanted_by

MOST_ADAPTATIONS = 20  # told on the page
Link = dict[str, object]
BODY = SafeString("<!-- the procedure -->")


@procedure_reader
@readable
@require_safe
def read(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the whole procedure. A revision asked for by number has an address of its own."""
    wanted = wanted_by(request, procedure)
    return redirect(wanted.address) if wanted.pinned else page_of(request, wanted)


def page_of(request: HttpRequest, wanted: Wanted) -> HttpResponse:
    """Return the page of a whole procedure. What is the same for all readers is made once."""
    procedure = wanted.procedure
    lineage = queries.lineage_of(procedure)
    context = {
        "procedure": procedure,
        "wanted": wanted,
        "lineage": lineage,
        "open_web": head_of(request, wanted, lineage) if wanted.revision else "",
        "adaptations": queries.adaptations_of(procedure).select_related("adaptation")[:MOST_ADAPTATIONS],
        "citation": citation_of(request, wanted) if wanted.revision else None,
        "views": views_of(request, wanted),
        "versions": versions_of(request, wanted),
        "resume": resume_of(request, wanted),
        "is_owner": may_edit(request.user, procedure),
        "guild_words": queries.guild_words(procedure, request.user, wanted.stored),
        "follow": follow_of(request.user, procedure) if wanted.revision else None,
        "body": BODY,
        **said_of(request, wanted),
    }
    # The body may be a megabyte: put in at the end, it is not copied by every template on its way.
    before, _, after = render_to_string("procedures/read/page.html", context, request).partition(BODY)
    body = counted(body_of(wanted, narrow=is_phone(request)), context["counts"])
    response = HttpResponse([before, *body, after])
    patch_vary_headers(response, ["User-Agent"])
    return response


def body_of(wanted: Wanted, *, narrow: bool = False) -> SafeString:
    """Return the part of the page that is the same for all its readers, kept once all drawings are on it."""
    key = wanted.key("read", wanted.query, narrow)
    found = recalled(key)
    if found is not None:
        return found
    shown = wanted.shown()
    until = monotonic() + PATIENCE
    parts = []
    for part in shown.parts:
        stretches = list(Drawings(wanted, part, narrow=narrow).stretches(until))
        parts.append((part, stretches, waiting_of(wanted, part.key, stretches)))
    context = {
        "shown": shown,
        "wanted": wanted,
        "narrow": narrow,
        "finished": [(shown.part(one.part["key"]), one) for one in last_stages(wanted)],
        "parts": parts,
    }
    body = SafeString(render_to_string("procedures/read/_body.html", context))
    return body if any(waiting for *_, waiting in parts) else keep(key, body)


def views_of(request: HttpRequest, wanted: Wanted) -> list[Link]:
    """Return the two ways to reckon, as links that keep the version."""
    draft = {"draft": ""} if "draft" in request.GET else {}
    return [
        link(request, "With scale", draft, current=not wanted.nominal),
        link(request, "Nominal", {**draft, "view": "nominal"}, current=wanted.nominal),
    ]


def versions_of(request: HttpRequest, wanted: Wanted) -> list[Link]:
    """Return what is published and the draft, as links that keep the view, for who may edit it."""
    if wanted.pinned or not (wanted.procedure.is_published and may_edit(request.user, wanted.procedure)):
        return []
    view = {"view": "nominal"} if wanted.nominal else {}
    return [
        link(request, "As published", view, current=wanted.revision is not None),
        link(request, "Draft", {"draft": "", **view}, current=wanted.revision is None),
    ]


def link(request: HttpRequest, text: str, query: dict[str, str], *, current: bool) -> Link:
    """Return a link to this page with a query."""
    asked = "&".join(f"{name}={value}" if value else name for name, value in query.items())
    return {"text": text, "href": f"?{asked}" if asked else request.path, "current": current}


@anyone
@require_safe
@cache_control(public=True, max_age=3600)
def document_schema(request: HttpRequest) -> HttpResponse:
    """Anyone: the JSON Schema of a procedure's document."""
    return JsonResponse(schema(), json_dumps_params={"ensure_ascii": False, "indent": 2})
