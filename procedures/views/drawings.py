"""The drawings of the author's page that come by themselves: they take longer than the numbers."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe
from django_htmx.http import trigger_client_event

from procedures.access import MemberRequest, procedure_editor
from procedures.models import Procedure

from .answers import AT_BENCH, readable_draft
from .bench import Bench
from .kept import shown


@procedure_editor
@readable_draft
@require_safe
def drawing(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: the small drawing of a step as SVG, with the scale it shares with the others of its part."""
    kept = shown(procedure)
    replayed = kept.replayed.part(part)
    frame = next((one for one in replayed.frames if one.key == step), None) if replayed else None
    if frame is None or frame.status != "done":
        raise Http404("There is no drawing of such a step here.")
    pen = kept.pen(part, request.units)
    response = HttpResponse(pen.step(frame), content_type="image/svg+xml")
    response["Cache-Control"] = "no-store"  # another scale changes it, and its address does not tell
    return trigger_client_event(response, "author:scale", {"scale": f"{part} {pen.scales}"}, after="swap")


@procedure_editor
@readable_draft
@require_safe
def piece(request: MemberRequest, procedure: Procedure, part: str) -> HttpResponse:
    """Owner: the large drawing of the step at the bench, or of the part, and the words under it."""
    bench = Bench(request, procedure, part, request.GET.get("step", ""))
    return render(request, AT_BENCH + "_piece.html", {"bench": bench})
