"""The bends, corners, scrolls and twists that a step made, found by comparing the piece before and after."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc, Corner, Spiral
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment

_TOUCH = 1e-3  # mm
_MORE = 0.03  # turns: a branch that turns by no more than this further has no new curve


@dataclass(frozen=True)
class CurveNote:
    """A bend, corner, scroll or twist that this step made, with the inside radius where there is one."""

    span: Span
    kind: str
    angle: float = 0.0
    inside: float | None = None
    spiral: Spiral | None = None
    turns: float = 0.0


def curve_notes(
    piece: Piece, worked: Iterable[Span], radii: Iterable[tuple[Span, float]], before: Piece
) -> Iterator[CurveNote]:
    """Yield the bends, corners, scrolls and twists that a step made.

    Those whose inside radius the step gives come as far as it says; others as far as they go.
    """
    told: set[tuple[str, float]] = set()
    asked = list(radii)
    for span, inside in asked:
        for low, high, run in _curved_runs(piece.branch(span.branch), span):
            told.add((span.branch, round(low, 3)))
            yield _curve(Span(span.branch, low, high), run, inside)
    for span in worked:
        branch = piece.branch(span.branch)
        for low, high, run in _curved_runs(branch, Span(span.branch, 0.0, branch.length)):
            key = (span.branch, round(low, 3))
            apart = low >= span.high - _TOUCH or high <= span.low + _TOUCH
            if key in told or apart or any(_overlap(one, span.branch, low, high) for one, _ in asked):
                continue
            told.add(key)
            if _is_new(before, branch, run[0]):
                yield _curve(Span(span.branch, low, high), run, None)


def _overlap(span: Span, branch: str, low: float, high: float) -> bool:
    return span.branch == branch and span.low < high - _TOUCH and low < span.high - _TOUCH


def _curved_runs(branch: Branch, span: Span) -> Iterator[tuple[float, float, list[Segment]]]:
    """Yield (from, to, segments) of the curves and twists in a span; arcs that go the same way join up."""
    at = span.low
    run: list[Segment] = []
    begun = at
    for one in branch.segments_between(span.low, span.high):
        if run and not _goes_on(run[-1], one):
            yield begun, at, run
            run = []
        if not one.is_straight:
            if not run:
                begun = at
            run.append(one)
        at += one.length
    if run:
        yield begun, at, run


def _goes_on(first: Segment, second: Segment) -> bool:
    one, two = first.path, second.path
    if isinstance(one, Arc) and isinstance(two, Arc):
        return (
            one.plane == two.plane
            and one.turn == two.turn
            and abs(one.radius - two.radius) < 0.5 * one.radius
        )
    if isinstance(one, Spiral) and isinstance(two, Spiral):
        return one.plane == two.plane and one.turn == two.turn
    return one.kind == two.kind == "straight" and first.twist * second.twist > 0


def _is_new(before: Piece, branch: Branch, first: Segment) -> bool:
    """Whether a branch turns or twists more than it did in the way of this segment; else the curve is old."""
    if not before.has_branch(branch.name):
        return True
    kind = _kind(first)
    return _turning(branch)[kind] > _turning(before.branch(branch.name))[kind] + _MORE


def _turning(branch: Branch) -> defaultdict[str, float]:
    """Return how far a branch turns in all [turns], by kind of curve."""
    found: defaultdict[str, float] = defaultdict(float)
    for one in branch.segments:
        path = one.path
        if isinstance(path, Spiral):
            found[_kind(one)] += path.turns
        elif isinstance(path, (Arc, Corner)):
            found[_kind(one)] += path.angle / 360
        else:
            found[_kind(one)] += abs(one.twist)
    return found


def _kind(one: Segment) -> str:
    return "twist" if one.path.kind == "straight" else one.path.kind


def _curve(span: Span, run: list[Segment], inside: float | None) -> CurveNote:
    path = run[0].path
    if isinstance(path, Arc):
        angle = sum(one.path.angle for one in run if isinstance(one.path, Arc))
        if inside is None:
            middle = run[len(run) // 2]
            depth = middle.start.thickness if path.plane == "easy" else middle.start.width
            inside = max(path.radius - depth / 2, 0.0)
        return CurveNote(span, "bend", angle=angle, inside=inside)
    if isinstance(path, Corner):
        return CurveNote(span, "corner", angle=path.angle, inside=inside)
    if isinstance(path, Spiral):
        last = run[-1].path
        assert isinstance(last, Spiral)
        turns = sum(one.path.turns for one in run if isinstance(one.path, Spiral))
        return CurveNote(span, "scroll", spiral=Spiral(path.first, last.last, turns, path.law))
    return CurveNote(span, "twist", turns=sum(one.twist for one in run))
