"""The curves of a piece: which runs of a branch are one bend, one scroll or one ring."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc, Corner, Plane, Spiral
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import Segment

CurveKind = Literal["bend", "corner", "scroll", "eye", "ring"]
LEG = 40.0  # mm of straight bar shown on each side of a curve
_ALIKE = 0.02  # of a radius, by which two arcs may differ that are one bend; at least 0.3 mm
_SLIVER = 0.6  # mm: straights shorter than this inside a bend were left by heats of different reach
_KINDS: dict[str, CurveKind] = {"arc": "bend", "spiral": "scroll", "corner": "corner"}
_EYE = 250.0  # degrees: what turns further is bent to a ring or an eye


@dataclass(frozen=True)
class Curve:
    """A curve between `low` and `high` mm of its branch, with straight bar before and after it [mm]."""

    kind: CurveKind
    branch: Branch
    low: float
    high: float
    plane: Plane
    turn: int
    angle: float
    before: float
    after: float

    @property
    def run(self) -> tuple[Segment, ...]:
        """Its segments with its legs."""
        return self.branch.segments_between(self.low - self.before, self.high + self.after)

    @property
    def radius(self) -> float:
        """The radius of the centreline of a bend, a ring or an eye [mm]."""
        return (self.high - self.low) / math.radians(self.angle) if self.angle else 0.0

    @property
    def spirals(self) -> tuple[Spiral, ...]:
        """The spirals of a scroll, from its start to its end."""
        return tuple(one.path for one in self.run if isinstance(one.path, Spiral))


def curves(piece: Piece, part: str) -> Iterator[Curve]:
    """Yield the curves of the branches that came from a part's own bar, in order."""
    for branch in piece.branches:
        if any(cut.bar == part for one in branch.segments for cut in one.origin):
            yield from _on(branch, is_closed=piece.is_closed(branch.name))


def _on(branch: Branch, *, is_closed: bool) -> Iterator[Curve]:
    groups = list(_groups(branch))
    for low, high, first in groups:
        inside = branch.segments_between(low, high)
        path = first.path
        assert isinstance(path, Arc | Spiral | Corner)
        angle = sum(_angle(one) for one in inside)
        kind: CurveKind = _KINDS[path.kind]
        if kind == "bend" and angle > _EYE:
            kind = "ring" if is_closed and angle > 355 else "eye"
        before = _straight(branch, low, back=True)
        after = _straight(branch, high, back=False)
        if kind == "corner":
            before, after = min(before, LEG), min(after, LEG)
        yield Curve(kind, branch, low, high, path.plane, path.turn, angle, before, after)


def _groups(branch: Branch) -> Iterator[tuple[float, float, Segment]]:
    """Yield (from, to [mm], its first segment) of every run that is one curve."""
    begin = end = 0.0
    first: Segment | None = None
    last: Segment | None = None
    at = 0.0
    for one in branch.segments:
        beyond = at + one.length
        if isinstance(one.path, Arc | Spiral | Corner):
            if first is None or last is None or at - end > _SLIVER or not _goes_on(last, one):
                if first is not None:
                    yield begin, end, first
                begin, first = at, one
            last, end = one, beyond
        at = beyond
    if first is not None:
        yield begin, end, first


def _goes_on(one: Segment, two: Segment) -> bool:
    """Whether a curved segment is the same curve as the one before it."""
    a, b = one.path, two.path
    if isinstance(a, Arc) and isinstance(b, Arc):
        near = max(_ALIKE * a.radius, 0.3)
        return (a.plane, a.turn) == (b.plane, b.turn) and abs(a.radius - b.radius) <= near
    if isinstance(a, Spiral) and isinstance(b, Spiral):
        near = max(_ALIKE * a.last, 0.3)
        return (a.plane, a.turn, a.law) == (b.plane, b.turn, b.law) and abs(a.last - b.first) <= near
    return False


def _angle(segment: Segment) -> float:
    path = segment.path
    if isinstance(path, Arc | Corner):
        return path.angle
    return 360 * path.turns if isinstance(path, Spiral) else 0.0


def _straight(branch: Branch, at: float, *, back: bool) -> float:
    """Return how much straight bar lies beside a place, LEG mm at most."""
    run = branch.segments_between(max(at - LEG, 0.0), at) if back else None
    if run is None:
        run = branch.segments_between(at, min(at + LEG, branch.length))
    length = 0.0
    for one in reversed(run) if back else run:
        if not one.is_straight:
            break
        length += one.length
    return length
