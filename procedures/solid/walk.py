"""A branch walked into rings: where its cross-sections stand in space, close enough for a true volume."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from calculators.generators import BORE, DISC, HALF_DISC, THICKNESS, WIDTH, Weights
from calculators.leaves import round_circle
from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.path import Arc, Corner, Spiral
from procedures.engine.pieces.pose import PosedBranch, PosedSegment, along
from procedures.engine.pieces.segment import TOUCH, Segment

from .contours import Array, Contours
from .mesh import placed_at

CHORD = 0.1  # mm: how far a chord along a curve may lie from it
TURN = math.radians(6)  # of a bend or twist between two rings: its chords lose a 500th of the volume
_LEAF = 24  # rings along a leaf
_DISC = 40  # rings along a whole disc
_NEAR = 0.01  # mm: rings nearer to each other along the bar than this are one
_HAIR = 0.15  # mm: a step no higher than this is closed straight across, whatever its shape

Reshape = Callable[[float, Weights], Weights]  # the section at a place, where a hole or the like changes it


@dataclass(frozen=True)
class Run:
    """Rings that follow each other without a break: outlines (rings, corners, 4), and bores of a tube."""

    outer: Array
    inner: Array | None
    twisted: bool


@dataclass(frozen=True)
class _Stand:
    """A cross-section before it is laid out; `stretch` is how much larger a mitre is, across and up."""

    at: float
    axes: Axes
    section: Weights
    stretch: tuple[float, float] = (1.0, 1.0)


@dataclass(frozen=True)
class _Ring:
    """A cross-section laid out: flat (corners, 2), and in space with its place along the branch."""

    axes: Axes
    flat: Array
    outer: Array
    bore: Array | None


def runs_of(
    posed: PosedBranch,
    *,
    extra: Iterable[float] = (),
    reshape: Reshape | None = None,
    parts: int = 1,
    turn: float = TURN,
    without: Sequence[tuple[float, float]] = (),
) -> list[Run]:
    """Return a branch as runs of rings, which meet end to end where they do not go on into each other.

    Rings also stand at the `extra` places [mm]. `parts` cuts straight edges of the sections, and `turn` is
    the most a bar bends or twists from ring to ring [rad]. Those in the ranges `without` [mm] are left out.
    """
    wanted = sorted(extra)
    stands = [
        _stands(one, wanted, reshape, turn)
        for one in posed.segments
        if one.segment.length > TOUCH and one.segment.volume > 0 and not _is_within(one, without)
    ]
    if not stands:
        return []
    sections = [one.section for segment in stands for one in segment]
    twisted = any(one.segment.twist for one in posed.segments)
    coarse = turn / TURN
    contours = contours_for(sections, max(parts, int(4 / coarse) if twisted else 1), coarse)
    runs: list[list[_Ring]] = []
    for segment in stands:
        rings = _rings(contours, segment)
        if runs and _goes_on(contours, runs[-1][-1], rings[0]):
            same = np.allclose(runs[-1][-1].outer, rings[0].outer, atol=1e-6)
            runs[-1] += rings[1:] if same else rings
        else:
            runs.append(rings)
    return [_run(one, twisted=twisted) for one in runs]


def _is_within(posed: PosedSegment, ranges: Sequence[tuple[float, float]]) -> bool:
    middle = (posed.low + posed.high) / 2
    return any(low < middle < high for low, high in ranges)


def contours_for(sections: Sequence[Weights], parts: int = 1, coarse: float = 1.0) -> Contours:
    """Return contours for all of these sections together, rounds `coarse` times as coarse as usual."""
    shapes = {shape for one in sections for shape, weight in enumerate(one) if weight}
    radius = max(max(one[DISC], one[HALF_DISC] / 2) for one in sections)
    return Contours(shapes or {WIDTH}, radius, parts, coarse)


def in_space(axes: Axes, flat: Array) -> Array:
    """Return points (..., 2) across and up at a place as points in space (..., 3)."""
    moved: Array = (
        np.array(axes.origin) + flat[..., :1] * np.array(axes.left) + flat[..., 1:2] * np.array(axes.up)
    )
    return moved


def _run(rings: list[_Ring], *, twisted: bool) -> Run:
    bores = [one.bore for one in rings if one.bore is not None]
    outer = np.stack([one.outer for one in rings])
    return Run(outer, np.stack(bores) if len(bores) == len(rings) else None, twisted)


def _rings(contours: Contours, stands: list[_Stand]) -> list[_Ring]:
    sections = [one.section for one in stands]
    stretches = np.array([one.stretch for one in stands])[:, None, :]
    flats, bores = contours.of(sections) * stretches, contours.bores_of(sections) * stretches
    hollow = any(one[BORE] for one in sections)
    return [
        _Ring(
            one.axes,
            flat,
            placed_at(in_space(one.axes, flat), one.at),
            placed_at(in_space(one.axes, bore), one.at) if hollow else None,
        )
        for one, flat, bore in zip(stands, flats, bores, strict=True)
    ]


def _goes_on(contours: Contours, last: _Ring, following: _Ring) -> bool:
    """Whether the surface can go on from the end of one segment to the start of the next.

    It can where one outline lies within the other: the step between them is flat then, and all seen.
    """
    if (last.bore is None) != (following.bore is None):
        return False
    if last.bore is not None and following.bore is not None and not np.allclose(last.bore, following.bore):
        return False
    if np.abs(last.outer - following.outer)[:, :3].max() < _HAIR:
        return True
    between = np.array(following.axes.origin) - np.array(last.axes.origin)
    if abs(between @ np.array(last.axes.ahead)) > _NEAR:
        return False
    aside = np.array([between @ np.array(last.axes.left), between @ np.array(last.axes.up)])
    reach = np.einsum("ij,ij->i", last.flat, contours.normals)
    beyond = np.einsum("ij,ij->i", following.flat + aside, contours.normals)
    return bool((beyond <= reach + _NEAR).all() or (reach <= beyond + _NEAR).all())


# -- where the rings of a segment stand --------------------------------------------------------------


def _stands(
    posed: PosedSegment, extra: Sequence[float], reshape: Reshape | None, turn: float
) -> list[_Stand]:
    segment = posed.segment
    if isinstance(segment.path, Corner):
        return _mitred(posed, segment.path)
    inside = [one - posed.low for one in extra if posed.low + _NEAR < one < posed.high - _NEAR]
    places = _merged(_places(segment, turn), inside)
    fuller = _fuller(math.tau * abs(segment.twist) / (len(places) - 1))
    stands = []
    for at in places:
        section, place = segment.section_at(at).g, posed.low + at
        stretch = (fuller, fuller) if places[0] < at < places[-1] else (1.0, 1.0)
        section = reshape(place, section) if reshape else section
        stands.append(_Stand(place, along(posed.start, segment, at), section, stretch))
    return stands


def _fuller(turn: float) -> float:
    """Return how much larger the rings of a twist must be, one turned so far [rad] from the next.

    Half way between two the surface lies nearer to the axis; the mean of its square is (2 + cos)/3.
    """
    return math.sqrt(3 / (2 + math.cos(min(turn, math.pi / 2))))


def _mitred(posed: PosedSegment, path: Corner) -> list[_Stand]:
    """Return the two ends of a corner, and the mitre between its straights.

    The metal of a fillet is more than the straights hold: the mitre is so much larger.
    """
    first, mitre, last = posed.stations
    wider = 1 / math.cos(math.radians(path.angle) / 2)
    segment = posed.segment
    fuller = 1.0
    if path.length > TOUCH:
        fuller = (math.sqrt(max(12 * segment.length / path.length - 3, 1.0)) - 1) / 2
    stretch = (fuller, fuller * wider) if path.plane == "easy" else (fuller * wider, fuller)
    return [
        _Stand(posed.low, first.axes, segment.start.g),
        _Stand(mitre.at, mitre.axes, segment.section_at(mitre.at - posed.low).g, stretch),
        _Stand(posed.high, last.axes, segment.end.g),
    ]


def _places(segment: Segment, turn: float) -> list[float]:
    """Return how far into a segment its rings stand [mm]."""
    path, length = segment.path, segment.length
    if isinstance(path, Spiral) and path.turns > 0:
        reach = max(path.first, path.last) + _reach(segment)
        count = max(math.ceil(math.tau * path.turns / _step(reach, turn)), _twists(segment, turn))
        return [*(length * _share_of_length(path, index / count) for index in range(count)), length]
    count = max(_twists(segment, turn), 1)
    if isinstance(path, Arc):
        count = max(count, math.ceil(math.radians(path.angle) / _step(path.radius + _reach(segment), turn)))
    if segment.bulge and segment.circle:
        part = segment.circle[1] - segment.circle[0]
        count = max(count, math.ceil(_DISC * part), 6)
        shares = [round_circle(segment.circle, index / count) for index in range(count)]
        return [*(length * min(max(share, 0.0), 1.0) for share in shares), length]
    if segment.bulge:
        count = max(count, _LEAF)
    return [*(length * index / count for index in range(count)), length]


def _twists(segment: Segment, turn: float) -> int:
    return math.ceil(math.tau * abs(segment.twist) / turn)


def _step(radius: float, turn: float) -> float:
    """Return the turn [rad] whose chord on a circle of this radius [mm] misses it by CHORD, or `turn`.

    Where fewer rings are wanted than usual the chord may miss by more.
    """
    chord = CHORD * (turn / TURN) ** 2
    if radius <= chord:
        return turn
    return min(2 * math.acos(1 - chord / radius), turn)


def _reach(segment: Segment) -> float:
    return max(math.hypot(one.width, one.thickness) for one in (segment.start, segment.end)) / 2


def _share_of_length(path: Spiral, share: float) -> float:
    """Return the share of a spiral's length that a share of its turns makes."""
    part = Spiral(path.first, path.radius_at(share), path.turns * share, path.law).length
    return min(max(part / path.length, 0.0), 1.0)


def _merged(places: Sequence[float], extra: Iterable[float]) -> list[float]:
    """Return places with others among them, but none twice; those given first stay."""
    found = list(places)
    found += [one for one in extra if min(abs(one - other) for other in places) > _NEAR]
    return sorted(found)


def wider(section: Weights, by: float, *, on_edge: bool = False) -> Weights:
    """Return a section with straight runs of a length [mm] let in across it, or through its thickness."""
    weights = list(section)
    weights[THICKNESS if on_edge else WIDTH] += by
    w = weights
    return w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7]


def turning_of(posed: PosedBranch) -> float:
    """Return how far a branch bends and twists in all [rad]."""
    total = 0.0
    for one in posed.segments:
        path = one.segment.path
        total += math.tau * abs(one.segment.twist)
        if isinstance(path, Arc):
            total += math.radians(path.angle)
        elif isinstance(path, Spiral):
            total += math.tau * path.turns
    return total
