"""Dressing a run of bar to one section where other metal was welded in; unlike drawing, on a bend too."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from procedures.engine.finding import Finding, stop
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.origin import Slice, in_a_row
from procedures.engine.pieces.path import STRAIGHT, Arc, Path, Straight
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment


def dressable(branch: Branch, span: Span, field: str) -> Iterator[Finding]:
    """Stop a weld on a run that is neither straight nor one bend, or twisted or folded."""
    run = branch.segments_between(span.low, span.high)
    if _path(run) is None or any(one.twist or one.layers > 1 for one in run):
        yield stop(
            "weld.not_dressable",
            "This run of {branch} is neither straight nor one plain bend: the weld cannot be dressed there.",
            hint="Weld before it is bent, twisted or folded, or choose another place.",
            branch=branch.said,
            field=field,
            source="geometry",
        )


def dressed(
    piece: Piece, span: Span, section: Section, more: float = 0.0, origin: tuple[Slice, ...] = ()
) -> Piece:
    """Return the piece with a run dressed to a section, `more` metal [mm³] of this origin welded into it.

    That metal is received. Its length follows from the metal; marks keep their share of the run's own.
    """
    branch = piece.branch(span.branch)
    run = branch.segments_between(span.low, span.high)
    length = (sum(one.volume for one in run) + more) / section.area
    piece = piece.reshaped(span, Segment(section, section, length, _bent(run, length)))
    if not origin:
        return replace(piece, received=piece.received + more)
    branch = piece.branch(span.branch).changed(
        span.low, span.low + length, lambda one: replace(one, origin=(*one.origin, *origin))
    )
    return replace(piece.with_branch(branch), received=piece.received + more)


def origin_of(branch: Branch, low: float, high: float) -> tuple[Slice, ...]:
    """Return where the metal of a run came from, told over the whole of the run."""
    return in_a_row([(one.origin, one.volume) for one in branch.segments_between(low, high)])


def _path(run: tuple[Segment, ...]) -> Path | None:
    """Return the straight or the arc that a run follows, or None where it follows neither."""
    first = run[0].path if run else STRAIGHT
    for one in run:
        if isinstance(first, Straight) and isinstance(one.path, Straight):
            continue
        arcs = isinstance(first, Arc) and isinstance(one.path, Arc)
        if not arcs or (one.path.plane, one.path.turn) != (first.plane, first.turn):  # type: ignore[union-attr]
            return None
    return first if isinstance(first, Straight | Arc) else None


def _bent(run: tuple[Segment, ...], length: float) -> Path:
    """Return the path of the run once it is so long [mm]: an arc keeps its angle."""
    path = _path(run)
    if not isinstance(path, Arc):
        return STRAIGHT
    angle = sum(one.path.angle for one in run if isinstance(one.path, Arc))
    whole = sum(one.length for one in run)
    radius = sum(one.length * one.path.radius for one in run if isinstance(one.path, Arc)) / whole
    return replace(path, angle=angle, radius=radius * length / whole)
