"""Where a piece lies in space: each branch walked along its centreline into stations, lengths in mm.

X runs along the bar, Y across its width, Z through its thickness. What is exact here (ends of arcs, spirals,
children) does not depend on how close the stations lie; they only have to be close enough to draw from.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from calculators.sections import Section

from .branch import Branch
from .path import Arc, Spiral
from .piece import Piece
from .segment import Segment

Vector = tuple[float, float, float]
CHORD = 0.1  # mm: how far a chord between two stations may lie from the curve
_MOST_STEP = math.radians(15)  # of turn between two stations, so that small bends are round too
_MOST_STATIONS = 2000  # of one segment: a long spring keeps within memory


@dataclass(frozen=True, slots=True)
class Axes:
    """A place on a centreline with the way the bar lies there.

    `ahead`, `left` and `up` are unit vectors along the bar, across its width and through its thickness.
    They are left-handed on a branch that hangs on its parent's start, whose left stays the piece's left.
    """

    origin: Vector = (0.0, 0.0, 0.0)
    ahead: Vector = (1.0, 0.0, 0.0)
    left: Vector = (0.0, 1.0, 0.0)
    up: Vector = (0.0, 0.0, 1.0)

    def point(self, along: float, left: float, up: float) -> Vector:
        """Return the point [mm] that lies so far along, to the left of and above this place."""
        o, a, w, n = self.origin, self.ahead, self.left, self.up
        return (
            o[0] + along * a[0] + left * w[0] + up * n[0],
            o[1] + along * a[1] + left * w[1] + up * n[1],
            o[2] + along * a[2] + left * w[2] + up * n[2],
        )

    def moved(self, along: float, left: float = 0.0, up: float = 0.0) -> Axes:
        """Return the same axes at another place."""
        return Axes(self.point(along, left, up), self.ahead, self.left, self.up)

    def turned(self, radians: float, plane: Literal["easy", "hard"]) -> Axes:
        """Return the axes turned on the spot: `ahead` towards `up` (easy) or towards `left` (hard)."""
        if not radians:
            return self
        if plane == "easy":
            ahead, up = _rotated(self.ahead, self.up, radians)
            return Axes(self.origin, ahead, self.left, up)
        ahead, left = _rotated(self.ahead, self.left, radians)
        return Axes(self.origin, ahead, left, self.up)

    def rolled(self, radians: float) -> Axes:
        """Return the axes turned about `ahead` by the right-hand rule, as a twist turns the bar."""
        if not radians:
            return self
        sense = 1 if _dot(_cross(self.ahead, self.left), self.up) > 0 else -1
        left, up = _rotated(self.left, self.up, sense * radians)
        return Axes(self.origin, self.ahead, left, up)

    def backwards(self) -> Axes:
        """Return the axes looking out of a branch's start; left and up stay."""
        return Axes(self.origin, _times(self.ahead, -1), self.left, self.up)


@dataclass(frozen=True, slots=True)
class Station:
    """A cross-section `at` mm along its branch, with its axes in space."""

    at: float
    axes: Axes
    section: Section


@dataclass(frozen=True)
class PosedSegment:
    """A segment between `low` and `high` mm of its branch, as stations from one end to the other."""

    segment: Segment
    low: float
    high: float
    stations: tuple[Station, ...]

    @property
    def start(self) -> Axes:
        """The axes at its start."""
        return self.stations[0].axes

    @property
    def end(self) -> Axes:
        """The axes at its end."""
        return self.stations[-1].axes


@dataclass(frozen=True)
class PosedBranch:
    """A branch in space. `start` holds where it has no segment at all."""

    branch: Branch
    start: Axes
    segments: tuple[PosedSegment, ...]

    @property
    def end(self) -> Axes:
        """The axes at its end."""
        return self.segments[-1].end if self.segments else self.start

    def axes_at(self, at: float) -> Axes:
        """Return the exact axes `at` mm from its start; beyond its ends, those of the end."""
        if not self.segments:
            return self.start
        index, inside = self.branch.locate(at)
        posed = self.segments[index]
        return along(posed.start, posed.segment, inside)


@dataclass(frozen=True)
class Pose:
    """A whole piece in space."""

    branches: tuple[PosedBranch, ...]
    by_name: Mapping[str, PosedBranch] = field(default_factory=dict)


def pose(piece: Piece, *, held: float = 0.0, at_x: float = 0.0, chord: float = CHORD) -> Pose:
    """Return the piece in space.

    The place `held` mm from the start of its root branch lies on the X axis at `at_x`, the bar there running
    along X with its width along Y. Stations lie so close that chords between them miss by `chord` mm at most.
    """
    root = piece.root
    there = _walked(root, Axes(), chord).axes_at(held)
    by_name: dict[str, PosedBranch] = {}
    for branch in piece.branches:
        if branch.attached is None or branch.attached.parent not in by_name:
            start = _bringing(there, at_x)
        else:
            start = _hanging(by_name[branch.attached.parent], branch)
        by_name[branch.name] = _walked(branch, start, chord)
    return Pose(tuple(by_name.values()), by_name)


def along(start: Axes, segment: Segment, at: float) -> Axes:
    """Return the axes `at` mm into a segment that starts with the axes `start`."""
    share = at / segment.length if segment.length > 0 else 0.0
    path = segment.path
    if isinstance(path, Spiral) and path.turns > 0:
        share = path.share_at(share)
    return _at_share(start, segment, share)


def _at_share(start: Axes, segment: Segment, share: float) -> Axes:
    """Return the axes at a share (0..1) of a segment's length, or of its turns where it is a spiral."""
    path = segment.path
    roll = 2 * math.pi * segment.twist * share
    if isinstance(path, Arc):
        turn = math.radians(path.angle) * share
        ahead, side = path.radius * math.sin(turn), path.radius * (1 - math.cos(turn))
    elif isinstance(path, Spiral) and path.turns > 0:
        ahead, side, turn = _spiral(path, share)
    else:
        return start.moved(segment.length * share).rolled(roll)
    side, turn = path.turn * side, path.turn * turn
    there = start.moved(ahead, up=side) if path.plane == "easy" else start.moved(ahead, left=side)
    return there.turned(turn, path.plane).rolled(roll)


def _spiral(path: Spiral, share: float) -> tuple[float, float, float]:
    """Return (ahead, to the side it curls to [mm], turned [rad]) after a share of the turns.

    The curve is r(θ) about a centre on that side. Its heading is θ + atan2(r, dr/dθ), so its start is turned
    back by its first heading to leave the bar smoothly.
    """
    sweep = 2 * math.pi * path.turns
    theta = sweep * share
    radius = path.radius_at(share)
    rate = _growth(path, radius) / sweep
    first = math.atan2(path.first, _growth(path, path.first) / sweep)
    x, y = radius * math.cos(theta) - path.first, radius * math.sin(theta)
    cos, sin = math.cos(first), math.sin(first)
    return x * cos + y * sin, y * cos - x * sin, theta + math.atan2(radius, rate) - first


def _growth(path: Spiral, radius: float) -> float:
    """Return dr over the whole sweep [mm] where the radius is this."""
    if path.law == "logarithmic":
        return radius * math.log(path.last / path.first)
    return path.last - path.first


def _walked(branch: Branch, start: Axes, chord: float) -> PosedBranch:
    """Return the branch posed from its start."""
    here, low = start, 0.0
    posed = []
    for segment in branch.segments:
        stations = _stations(here, segment, low, chord)
        posed.append(PosedSegment(segment, low, low + segment.length, stations))
        here, low = stations[-1].axes, low + segment.length
    return PosedBranch(branch, start, tuple(posed))


def _stations(start: Axes, segment: Segment, low: float, chord: float) -> tuple[Station, ...]:
    steps = _steps(segment, chord)
    path = segment.path
    even = not (isinstance(path, Spiral) and path.turns > 0)
    length = path.length if isinstance(path, Spiral) and not even else 0.0
    stations = [Station(low, start, segment.start)]
    for index in range(1, steps + 1):
        share = index / steps
        done = share if even or index == steps else _share_of_length(path, share, length)  # type: ignore[arg-type]
        at = segment.length * done
        section = segment.end if index == steps else segment.section_at(at)
        stations.append(Station(low + at, _at_share(start, segment, share), section))
    return tuple(stations)


def _share_of_length(path: Spiral, share: float, whole: float) -> float:
    """Return the share of a spiral's length that a share of its turns makes."""
    radius = path.radius_at(share)
    part = Spiral(path.first, radius, path.turns * share, path.law).length
    return min(max(part / whole, 0.0), 1.0) if whole > 0 else share


def _steps(segment: Segment, chord: float) -> int:
    """Return how many chords a segment needs."""
    path = segment.path
    reach = max(_reach(segment.start), _reach(segment.end))
    steps = 1
    if segment.twist:
        steps = math.ceil(2 * math.pi * abs(segment.twist) / _step(reach, chord))
    if isinstance(path, Arc):
        steps = max(steps, math.ceil(math.radians(path.angle) / _step(path.radius + reach, chord)))
    elif isinstance(path, Spiral) and path.turns > 0:
        widest = max(path.first, path.last) + reach
        steps = max(steps, math.ceil(2 * math.pi * path.turns / _step(widest, chord)))
    return min(max(steps, 1), _MOST_STATIONS)


def _reach(section: Section) -> float:
    return math.hypot(section.width, section.thickness) / 2


def _step(radius: float, chord: float) -> float:
    """Return the angle [rad] whose chord on a circle of this radius misses it by `chord`."""
    if radius <= chord:
        return _MOST_STEP
    return min(2 * math.acos(1 - chord / radius), _MOST_STEP)


def _hanging(parent: PosedBranch, branch: Branch) -> Axes:
    """Return the axes at the start of a branch that hangs on another."""
    attached = branch.attached
    assert attached is not None
    if attached.at == "start":
        base = parent.start.backwards()
    elif attached.at == "end":
        base = parent.end
    else:
        base = parent.axes_at(float(attached.at))
    base = base.moved(0.0, left=attached.offset)
    return base.turned(math.radians(attached.angle), "hard").turned(math.radians(attached.elevation), "easy")


def _bringing(there: Axes, at_x: float) -> Axes:
    """Return where a walk must start so that the place which now lies at `there` comes to lie along X."""
    o, a, w, n = there.origin, there.ahead, there.left, there.up
    origin = (at_x - _dot(o, a), -_dot(o, w), -_dot(o, n))
    return Axes(origin, (a[0], w[0], n[0]), (a[1], w[1], n[1]), (a[2], w[2], n[2]))


def _rotated(first: Vector, second: Vector, radians: float) -> tuple[Vector, Vector]:
    """Return two perpendicular vectors turned in their plane, the first towards the second."""
    cos, sin = math.cos(radians), math.sin(radians)
    return (
        (
            cos * first[0] + sin * second[0],
            cos * first[1] + sin * second[1],
            cos * first[2] + sin * second[2],
        ),
        (
            cos * second[0] - sin * first[0],
            cos * second[1] - sin * first[1],
            cos * second[2] - sin * first[2],
        ),
    )


def _dot(first: Vector, second: Vector) -> float:
    return first[0] * second[0] + first[1] * second[1] + first[2] * second[2]


def _cross(first: Vector, second: Vector) -> Vector:
    return (
        first[1] * second[2] - first[2] * second[1],
        first[2] * second[0] - first[0] * second[2],
        first[0] * second[1] - first[1] * second[0],
    )


def _times(one: Vector, factor: float) -> Vector:
    return (one[0] * factor, one[1] * factor, one[2] * factor)
