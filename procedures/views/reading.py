"""Reading a procedure: the whole of it on one page, and the schema of its document."""

from __future__ import annotations

import json

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from procedures import queries
from procedures.access import anyone, may_edit, procedure_reader
from procedures.engine.schema import schema
from procedures.models import Procedure
from procedures.presenting import ShownPart
from procedures.presenting.edition import content_key
from procedures.presenting.kept import kept

from .citations import citation_of
from .following import resume_of
from .open_web import head_of
from .rows import drawing_digests
from .stages import last_stages
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
        "body": BODY,
    }
    # The body may be a megabyte: put in at the end, it is not copied by every template on its way.
    before, _, after = render_to_string("procedures/read/page.html", context, request).partition(BODY)
    return HttpResponse([before, body_of(wanted), after])


def body_of(wanted: Wanted) -> SafeString:
    """Return the part of the page that is the same for all its readers."""
    return kept(wanted.key("read", wanted.query), lambda: _body(wanted))


def _body(wanted: Wanted) -> str:
    shown = wanted.shown()
    context = {
        "shown": shown,
        "wanted": wanted,
        "finished": [(shown.part(one.part["key"]), one) for one in last_stages(wanted)],
        "parts": [
            (part, list(zip(part.steps, drawings_of(wanted, part), strict=True))) for part in shown.parts
        ],
    }
    return render_to_string("procedures/read/_body.html", context)


def drawings_of(wanted: Wanted, part: ShownPart, *, narrow: bool = False) -> list[SafeString]:
    """Return the drawings of a part's steps, "" for none, drawn when there are none yet of the same steps.

    They outlive the page they were made for: the same part in another revision, or beside an edited one, has
    them already.
    """
    follows_from = list(drawing_digests(wanted.stored, part.key, wanted.units).values())[-1:]
    key = content_key("drawings", follows_from, part.name, wanted.nominal, narrow)

    def made() -> str:
        return json.dumps([one.narrow_drawing if narrow else one.drawing for one in part.steps])

    return [SafeString(one) for one in json.loads(kept(key, made))]  # the drawing code escapes


@procedure_reader
@readable
@require_safe
def narrow_drawings(request: HttpRequest, procedure: Procedure, part: str) -> HttpResponse:
    """Who may read it: the drawings of a part for a telephone, which asks for them when the part is in view.

    They are half of what there is to draw, and a wide screen never shows them.
    """
    wanted = wanted_by(request, procedure)

    def made() -> str:
        shown = wanted.shown().part(part)
        if shown is None:
            raise Http404("There is no such part in this procedure.")
        steps = zip(shown.steps, drawings_of(wanted, shown, narrow=True), strict=True)
        return render_to_string("procedures/read/_narrow_drawings.html", {"steps": list(steps)})

    return HttpResponse(kept(wanted.key("narrow", part), made))


def views_of(request: HttpRequest, wanted: Wanted) -> list[Link]:
    """Return the two ways to reckon, as links that keep the version."""
    draft = {"draft": ""} if "draft" in request.GET else {}
    return [
        link(request, "With scale", draft, current=not wanted.nominal),
        link(request, "Nominal", {**draft, "view": "nominal"}, current=wanted.nominal),
    ]


def versions_of(request: HttpRequest, wanted: Wanted) -> list[Link]:
    """Return what is public and the draft, as links that keep the view, for its owner."""
    if wanted.pinned or not (wanted.procedure.is_public and may_edit(request.user, wanted.procedure)):
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
