"""Where a piece lies in space: each branch walked along its centreline into stations, lengths in mm.

X runs along the bar, Y across its width, Z through its thickness. What is exact here (ends of arcs, spirals,
children) does not depend on how close the stations lie; they only have to be close enough to draw from.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from calculators.generators import THICKNESS, WIDTH
from calculators.leaves import round_circle
from calculators.sections import Section

from .axes import Axes, dot
from .branch import Branch
from .path import Arc, Corner, Plane, Spiral, Straight
from .piece import Piece
from .segment import LEVEL, Segment

CHORD = 0.1  # mm: how far a chord between two stations may lie from the curve
_MOST_STEP = math.radians(15)  # of turn between two stations, so that small bends are round too
_MOST_STATIONS = 2000  # of one segment: a long spring keeps within memory


@dataclass(frozen=True, slots=True)
class Station:
    """A cross-section `at` mm along its branch, with its axes in space. In a corner it is the mitre's."""

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


def pose(
    piece: Piece, *, held: float = 0.0, at_x: float = 0.0, chord: float = CHORD, turned: bool = False
) -> Pose:
    """Return the piece in space.

    The place `held` mm from the start of its root branch lies on the X axis at `at_x`, the bar there running
    along X with its width along Y. Stations lie so close that chords between them miss by `chord` mm at most.
    `turned` is the same piece after half a turn about Z, its start to the right: not its mirror image.
    """
    root = piece.root
    there = _walked(root, Axes(), chord).axes_at(held)
    by_name: dict[str, PosedBranch] = {}
    for branch in piece.branches:
        if branch.attached is None or branch.attached.parent not in by_name:
            start = _bringing(there, at_x)
            start = _half_turned(start) if turned else start
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
    there = _along_path(start, segment, share)
    return there.moved(0.0, *(share * one for one in segment.lean)) if segment.lean != LEVEL else there


def _along_path(start: Axes, segment: Segment, share: float) -> Axes:
    path = segment.path
    roll = 2 * math.pi * segment.twist * share
    if isinstance(path, Corner):
        return _past_corner(start, path, segment.length, segment.length * share).rolled(roll)
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


def _past_corner(start: Axes, path: Corner, length: float, at: float) -> Axes:
    first, second, is_turned = path.reach_to(length, at)
    there = start.moved(first)
    if not is_turned:
        return there
    return there.turned(path.turn * math.radians(path.angle), path.plane).moved(second)


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
    posed: list[PosedSegment] = []
    for segment in branch.segments:
        if posed:
            here = _stepped(here, posed[-1].segment, segment)
        stations = _stations(here, segment, low, chord)
        posed.append(PosedSegment(segment, low, low + segment.length, stations))
        here, low = stations[-1].axes, low + segment.length
    return PosedBranch(branch, start, tuple(posed))


def _stepped(here: Axes, last: Segment, following: Segment) -> Axes:
    """Return the axes at the end of one segment brought to where the next begins: beside it after a ledge."""
    if last.aside_at_end == following.aside:
        return here
    left, up = (to - it for to, it in zip(following.aside, last.aside_at_end, strict=True))
    return here.moved(0.0, left, up)


def _stations(start: Axes, segment: Segment, low: float, chord: float) -> tuple[Station, ...]:
    path = segment.path
    if isinstance(path, Corner):
        return _mitred(start, segment, path, low)
    steps = _steps(segment, chord)
    even = not (isinstance(path, Spiral) and path.turns > 0)
    length = path.length if isinstance(path, Spiral) and not even else 0.0
    stations = [Station(low, start, segment.start)]
    for index in range(1, steps + 1):
        share = index / steps
        if even and segment.circle:
            share = round_circle(segment.circle, share)  # close together where the outline is steep
        done = share if even or index == steps else _share_of_length(path, share, length)  # type: ignore[arg-type]
        at = segment.length * done
        section = segment.end if index == steps else segment.section_at(at)
        stations.append(Station(low + at, _at_share(start, segment, share), section))
    return tuple(stations)


def _mitred(start: Axes, segment: Segment, path: Corner, low: float) -> tuple[Station, ...]:
    """Return the stations of a corner: its two ends, and the mitre between its straights."""
    half = math.radians(path.angle) / 2
    at = (path.before + segment.length - path.after) / 2
    axes = start.moved(path.before).turned(path.turn * half, path.plane)
    section = _stretched(segment.section_at(at), path.plane, 1 / math.cos(half))
    end = Station(low + segment.length, _at_share(start, segment, 1.0), segment.end)
    return Station(low, start, segment.start), Station(low + at, axes, section), end


def _stretched(section: Section, plane: Plane, times: float) -> Section:
    """Return a section made larger in one plane only; the reach of any shape is right, its curves nearly."""
    weights = list(section.g)
    if plane == "easy":
        weights[THICKNESS] += section.thickness * (times - 1)
    else:
        weights[WIDTH] += section.width * (times - 1)
    w = weights
    return Section((w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7]))


def _share_of_length(path: Spiral, share: float, whole: float) -> float:
    """Return the share of a spiral's length that a share of its turns makes."""
    radius = path.radius_at(share)
    part = Spiral(path.first, radius, path.turns * share, path.law).length
    return min(max(part / whole, 0.0), 1.0) if whole > 0 else share


def _steps(segment: Segment, chord: float) -> int:
    """Return how many chords a segment needs."""
    path = segment.path
    if isinstance(path, Straight) and not segment.twist and not segment.bulge:
        return 1
    reach = max(_reach(segment.start), _reach(segment.end))
    steps = 1
    if segment.twist:
        steps = math.ceil(2 * math.pi * abs(segment.twist) / _step(reach, chord))
    if isinstance(path, Arc):
        steps = max(steps, math.ceil(math.radians(path.angle) / _step(path.radius + reach, chord)))
    elif isinstance(path, Spiral) and path.turns > 0:
        widest = max(path.first, path.last) + reach
        steps = max(steps, math.ceil(2 * math.pi * path.turns / _step(widest, chord)))
    if segment.bulge and segment.circle:
        turn = sum(math.acos(1 - 2 * end) * sign for end, sign in zip(segment.circle, (-1, 1), strict=True))
        steps = max(steps, math.ceil(turn / _step(segment.bulge / 2, chord)))
    elif segment.bulge:
        steps = max(steps, math.ceil(math.sqrt(segment.bulge / (2 * chord))))  # each side is a parabola
    return min(max(steps, 1), _MOST_STATIONS)


def _reach(section: Section) -> float:
    return math.hypot(section.width, section.thickness) / 2


def _step(radius: float, chord: float) -> float:
    """Return the angle [rad] whose chord on a circle of this radius misses it by `chord`."""
    if radius <= chord:
        return _MOST_STEP
    return min(2 * math.acos(1 - chord / radius), _MOST_STEP)


def _hanging(parent: PosedBranch, branch: Branch) -> Axes:
    """Return the axes at the start of a branch that hangs on another by that start or a place along it."""
    attached = branch.attached
    assert attached is not None
    if attached.at == "start":
        base = parent.start.backwards()
    elif attached.at == "end":
        base = parent.end
    else:
        base = parent.axes_at(float(attached.at))
    base = base.moved(attached.ahead, attached.offset, attached.up)
    base = base.turned(math.radians(attached.angle), "hard").turned(math.radians(attached.elevation), "easy")
    base = base.rolled(math.radians(attached.roll))
    if branch.is_held_at_start:
        return base
    return _before(base, _walked(branch, Axes(), CHORD).axes_at(attached.by))


def _before(base: Axes, there: Axes) -> Axes:
    """Return where a walk must start so that the place which its own walk puts at `there` lies at `base`."""
    back = _bringing(there, 0.0)
    zero = Axes((0.0, 0.0, 0.0), base.ahead, base.left, base.up)
    return Axes(
        base.point(*back.origin), zero.point(*back.ahead), zero.point(*back.left), zero.point(*back.up)
    )


def _bringing(there: Axes, at_x: float) -> Axes:
    """Return where a walk must start so that the place which now lies at `there` comes to lie along X."""
    o, a, w, n = there.origin, there.ahead, there.left, there.up
    origin = (at_x - dot(o, a), -dot(o, w), -dot(o, n))
    return Axes(origin, (a[0], w[0], n[0]), (a[1], w[1], n[1]), (a[2], w[2], n[2]))


def _half_turned(axes: Axes) -> Axes:
    """Return axes after half a turn about Z."""
    return Axes(*((-x, -y, z) for x, y, z in (axes.origin, axes.ahead, axes.left, axes.up)))
