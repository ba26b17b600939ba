"""A step in the round: its solid to turn on the page, or to take away as glTF and STL."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from django.core.cache import cache
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.engine.frames import Frame
from procedures.engine.pieces.piece import Piece
from procedures.engine.replay import replay
from procedures.models import Procedure
from procedures.presenting.edition import content_key
from procedures.presenting.kept import FOR

from .stages import Stage, stage_of
from .wanted import readable, wanted_by

if TYPE_CHECKING:
    from procedures.solid.bodies import Body

TYPES = {"glb": "model/gltf-binary", "stl": "model/stl"}


@procedure_reader
@readable
@require_safe
def solid(request: HttpRequest, procedure: Procedure, part: str, number: int, kind: str) -> HttpResponseBase:
    """Who may read it: the piece as a step leaves it, as a file of a `kind`; step 0 is the bar."""
    stage = stage_of(wanted_by(request, procedure), part, number)
    key = _key(stage, kind)
    etag = f'"{key}"'
    kept = get_conditional_response(request, etag=etag)
    response = kept or HttpResponse(_kept(key, lambda: _made(stage, kind)), content_type=TYPES[kind])
    if not kept:
        response["Content-Disposition"] = f'attachment; filename="{file_name(stage, kind)}"'
    response["ETag"] = etag
    response["Cache-Control"] = "private, no-cache"
    return response


def file_name(stage: Stage, kind: str) -> str:
    """Return what the file is called when it is saved."""
    wanted = stage.wanted
    version = wanted.version.lower().replace(" ", "-")
    return f"{wanted.procedure.slug}-{version}-{stage.part['key']}-step-{stage.number}.{kind}"


def _key(stage: Stage, kind: str) -> str:
    """Return the key to keep a solid under: it is the same for readers of all units."""
    wanted = stage.wanted
    return content_key(
        f"solid-{kind}",
        wanted.digest,
        wanted.nominal,
        wanted.procedure.slug,
        wanted.version,
        wanted.author,
        stage.part["key"],
        stage.number,
    )


def _kept(key: str, make: Callable[[], bytes]) -> bytes:
    made: bytes | None = cache.get(key)
    if made is None:
        made = make()
        cache.set(key, made, FOR)
    return made


def _made(stage: Stage, kind: str) -> bytes:
    from procedures.solid.bodies import bodies_of  # slow to import, and most requests need none of it
    from procedures.solid.export import glb, stl
    from procedures.solid.glowing import glowing, temperature_of

    piece, frame = _reached(stage)
    bodies = bodies_of(piece, glowing(frame) if frame else ())
    if kind == "stl":
        return stl(bodies, f"{stage.wanted.document.licence}, {stage.wanted.author}: {stage.wanted.title}")
    temperature = temperature_of(frame) if frame else None
    return glb(bodies, temperature, copyright=stage.wanted.rights, extras=_told(stage, frame, bodies))


def _reached(stage: Stage) -> tuple[Piece, Frame | None]:
    """Return the piece at a stage and what made it so. Raises Http404 where no step got it there."""
    part = replay(stage.wanted.document, nominal=stage.wanted.nominal).part(stage.part["key"])
    assert part is not None
    if not stage.number:
        return part.start, None
    frame = part.frames[stage.number - 1]
    if frame.status != "done":
        raise Http404("The work does not come to this step: an earlier one, or this, cannot be done.")
    return frame.after, frame


def _told(stage: Stage, frame: Frame | None, bodies: Sequence[Body]) -> dict[str, str | int | float]:
    """Return what the file says of itself beside its form."""
    wanted = stage.wanted
    heat = _heat(frame) if frame else ""
    return {
        "title": wanted.title,
        "revision": wanted.version,
        "date": wanted.date,
        "author": wanted.author,
        "credits": "; ".join(wanted.document.credits),
        "licence": wanted.document.licence,
        "part": stage.part["name"],
        "step": stage.number,
        "operation": stage.title,
        "reckoned": "nominal" if wanted.nominal else "with scale",
        "volume": round(sum(one.volume for one in bodies), 1),
        "volumeUnit": "mm3",
        **({"heat": heat} if heat else {}),
    }


def _heat(frame: Frame) -> str:
    """Return the heat of a step in words, as its file says it: "850 to 1050 degC"; "" for cold work."""
    heat = frame.operation.heat if frame.operation else None
    return (
        f"{heat[0]:.0f} to {heat[1]:.0f} degC" if heat and (frame.step.heats or frame.welding_heats) else ""
    )
