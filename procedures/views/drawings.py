"""The small drawings in the author's list of steps, each kept by the digest of all it is made from."""

from __future__ import annotations

from django.core.cache import cache
from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from calculators.wording import UnitSystem
from procedures.access import MemberRequest, procedure_editor
from procedures.drawing import PartDrawing
from procedures.editing import NoSuchPlace
from procedures.engine import document as engine_document
from procedures.engine.replay import replay
from procedures.models import Procedure

from .answers import readable_draft
from .rows import drawing_digests

KEPT = 7 * 24 * 3600  # seconds
YEAR = 365 * 24 * 3600  # seconds


@procedure_editor
@readable_draft
@require_safe
def drawing(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: the small drawing of a step as SVG. With the digest of what is drawn as `v` it never changes."""
    units = request.units
    try:
        digest = drawing_digests(procedure.document, part, units)[step]
    except (NoSuchPlace, KeyError) as error:
        raise Http404("There is no such step here.") from error
    svg: str | None = cache.get(f"small-drawing:{digest}")
    if svg is None:
        svg = drawn(procedure, part, step, units)
        cache.set(f"small-drawing:{digest}", svg, KEPT)
    response = HttpResponse(svg, content_type="image/svg+xml")
    is_named = request.GET.get("v") == digest
    response["Cache-Control"] = f"private, max-age={YEAR}, immutable" if is_named else "no-store"
    return response


def drawn(procedure: Procedure, part: str, step: str, units: UnitSystem) -> str:
    """Return the drawing of a step; nothing for one that does not come about."""
    replayed = replay(engine_document.read(procedure.document, draft=True)).part(part)
    assert replayed is not None
    frame = next(one for one in replayed.frames if one.key == step)
    return PartDrawing(replayed, units, "small").step(frame) if frame.status == "done" else "<svg/>"
