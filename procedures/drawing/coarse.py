"""A piece as drawings need it: cut where work begins and ends, and the slivers that heats leave joined up."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import replace

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc, Path, Spiral, Straight
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment

_SIZES = len(Section.square(1).g)
APART = 0.15  # mm: steps smaller than this are never drawn


def coarse(piece: Piece, spans: Iterable[Span] = (), apart: float = APART) -> Piece:
    """Return the piece with its segments cut at the ends of the spans; between those, as few as do.

    `apart` is how much a size [mm] may come out other than it is.
    """
    cuts: dict[str, set[float]] = {}
    for span in spans:
        cuts.setdefault(span.branch, set()).update((span.low, span.high))
    branches = tuple(_coarse(one, cuts.get(one.name, set()), apart) for one in piece.branches)
    return replace(piece, branches=branches)


def _coarse(branch: Branch, cuts: set[float], apart: float) -> Branch:
    inside = sorted(at for at in cuts if 1e-6 < at < branch.length - 1e-6)
    ends = [0.0, *inside, branch.length]
    runs: list[Segment] = []
    for low, high in itertools.pairwise(ends):
        segments = branch.segments_between(low, high) if inside else branch.segments
        runs += _joined(segments, apart)
    return replace(branch, segments=tuple(runs))


def _joined(segments: Iterable[Segment], apart: float) -> list[Segment]:
    """Return the segments with neighbours joined that are one run to the eye."""
    joined: list[Segment] = []
    tolerated = _Tolerated(apart)
    for one in segments:
        both = _both(joined[-1], one) if joined else None
        if both is None or not tolerated.takes(joined[-1], one):
            joined.append(one)
            tolerated = _Tolerated(apart)
        else:
            joined[-1] = both
    return joined


class _Tolerated:
    """The slopes that a run may have in each of its sizes, and still come near to all it was joined from."""

    def __init__(self, apart: float) -> None:
        self.apart = apart
        self.slopes = [(-math.inf, math.inf)] * _SIZES

    def takes(self, run: Segment, more: Segment) -> bool:
        """Whether a run may go on so far: if it may, what it must come near to from now on is noted."""
        start, long = run.start.g, run.length
        passed = (run.end.g, more.start.g)
        narrowed = []
        for (low, high), first, *sizes, last in zip(self.slopes, start, *passed, more.end.g, strict=True):
            for size in sizes:
                low = max(low, (size - self.apart - first) / long)
                high = min(high, (size + self.apart - first) / long)
            if not low <= (last - first) / (long + more.length) <= high:
                return False
            narrowed.append((low, high))
        self.slopes = narrowed
        return True


def _both(one: Segment, two: Segment) -> Segment | None:
    """Return two neighbours as one segment, or None where they are not of one kind."""
    alike = one.layers == two.layers and one.shift == two.shift and _rate(one) == _rate(two)
    if not alike or one.bulge or two.bulge or not (one.length > 0 and two.length > 0):
        return None
    path = _path(one.path, two.path)
    if path is None:
        return None
    return replace(
        one, end=two.end, length=one.length + two.length, path=path, twist=one.twist + two.twist, origin=()
    )


def _rate(one: Segment) -> float:
    return round(one.twist / one.length, 9) if one.length > 0 else 0.0


def _path(one: Path, two: Path) -> Path | None:
    """Return the path of two segments in a row where it is one curve, or None."""
    if isinstance(one, Straight) and isinstance(two, Straight):
        return one
    if isinstance(one, Arc) and isinstance(two, Arc):
        same = one.plane == two.plane and one.turn == two.turn and math.isclose(one.radius, two.radius)
        return replace(one, angle=one.angle + two.angle) if same else None
    if isinstance(one, Spiral) and isinstance(two, Spiral) and _one_spiral(one, two):
        return replace(one, last=two.last, turns=one.turns + two.turns)
    return None


def _one_spiral(one: Spiral, two: Spiral) -> bool:
    same = one.plane == two.plane and one.turn == two.turn and one.law == two.law
    if not same or not math.isclose(one.last, two.first, rel_tol=1e-6):
        return False
    return math.isclose(_growth(one), _growth(two), rel_tol=1e-4)


def _growth(one: Spiral) -> float:
    """Return how fast the radius grows a turn, by the spiral's own law."""
    if one.law == "logarithmic":
        return math.log(one.last / one.first) / one.turns
    return (one.last - one.first) / one.turns
