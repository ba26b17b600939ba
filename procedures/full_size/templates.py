"""Templates of bends, corners, scrolls, eyes and rings: inside, centre and outside curve at full size."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from procedures.drawing.lettering import fitted, name
from procedures.drawing.views import EDGE, PLAN, heading, left_of, reach
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Corner, Spiral
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.pose import PosedBranch, pose
from procedures.engine.pieces.segment import TOUCH, Segment

from .curves import Curve, curves
from .pattern import FINE, LETTER, SMALL, Arc, Item, Line, Pattern, Spot, Whose, Words, cross, headed

_WAYS = {"easy": "through the thickness", "hard": "on edge"}
_ROOM = 165.0  # mm for a line of words
_LEAST_LEG = 20.0  # mm: on a shorter one there is no room to name the sides
_LEAST_EDGE = 0.05  # mm by which two sizes differ enough to be told apart


@dataclass(frozen=True)
class _Rib:
    """The bar at one place: its inside, middle and outside in the plane of the curve [mm]."""

    at: float
    inside: Spot
    middle: Spot
    outside: Spot
    is_leg: bool


def templates(piece: Piece, whose: Whose) -> Iterator[Pattern]:
    """Yield a template of each curve of a part's own metal; curves that are alike share one."""
    groups: dict[object, list[Curve]] = {}
    for curve in curves(piece, whose.part):
        groups.setdefault(_shape(curve), []).append(curve)
    counts: dict[str, int] = {}
    for group in groups.values():
        kind = group[0].kind
        counts[kind] = counts.get(kind, 0) + 1
        yield _Template(piece, group, counts[kind], whose).pattern()


def _shape(curve: Curve) -> object:
    """Return what two curves have in common when one template does for both, whichever way they turn."""
    return curve.kind, curve.plane, tuple(_segment_shape(one) for one in curve.run)


def _segment_shape(one: Segment) -> object:
    path = one.path
    turned = (round(path.first, 1), round(path.last, 1)) if isinstance(path, Spiral) else ()
    angle = round(getattr(path, "angle", 0.0), 1)
    sizes = tuple(round(size, 1) for end in (one.start, one.end) for size in (end.width, end.thickness))
    return path.kind, angle, turned, round(one.length, 1), sizes


class _Template:
    """The template of one curve, and of those like it."""

    def __init__(self, piece: Piece, group: Sequence[Curve], number: int, whose: Whose) -> None:
        self.curve = group[0]
        self.group = group
        self.number = number
        self.whose = whose
        self.units = whose.units
        self.view = EDGE if self.curve.plane == "easy" else PLAN
        alone = Branch("curve", self.curve.run)
        bare = replace(piece, branches=(alone,), groups={}, joints=(), worked=())
        self.posed = pose(bare, held=self.curve.before, chord=FINE).branches[0]
        self.ribs = _ribs(self.posed, self.curve)

    def pattern(self) -> Pattern:
        """Return it with its words."""
        curve = self.curve
        items = [*self._ring()] if curve.kind == "ring" else [*self._outline(), *self._ends()]
        items += self._centre_line()
        items += self._centres()
        title = f"{self.whose.name}: {curve.kind} {self.number}, {self._size()}"
        lead = self._where()
        notes = (lead, self._radii(), self._bar(), "Turn it over for the other hand.")
        shown = headed(items, title, (fitted(one, SMALL, _ROOM) for one in notes if one))
        return Pattern(f"{curve.kind}-{self.number}", title, lead, shown)

    # -- words -----------------------------------------------------------------------------------

    def _size(self) -> str:
        curve = self.curve
        if curve.kind == "scroll":
            turns = self.units.number(curve.angle / 360)
            return f"{turns} turn" if turns == "1" else f"{turns} turns"
        if curve.kind in ("ring", "eye"):
            return f"inside ø {self.units.size(2 * self._inside_radii()[0])}"
        return self.units.angle(curve.angle)

    def _where(self) -> str:
        one = self.curve
        ends = [self.units.length(at) for at in (one.low, one.high)]
        said = f"On {name(one.branch.name, 30)}, {ends[0]} to {ends[1]} from its start"
        if len(self.group) > 1:
            others = ", ".join(dict.fromkeys(name(two.branch.name, 20) for two in self.group[1:]))
            said += f"; {len(self.group)} alike, also on {others}"
        return said + f". Bent {_WAYS[one.plane]}."

    def _inside_radii(self) -> tuple[float, float]:
        """Return the least and the largest inside radius of an arc [mm]."""
        depths = [math.dist(one.inside, one.middle) for one in self._curved()]
        return self.curve.radius - max(depths), self.curve.radius - min(depths)

    def _radii(self) -> str:
        curve, units = self.curve, self.units
        if curve.kind == "scroll":
            first, last = curve.spirals[0].first, curve.spirals[-1].last
            opening = "evenly" if curve.spirals[0].law == "archimedes" else "in proportion"
            return f"Middle line from radius {units.size(first)} to {units.size(last)}, opening {opening}."
        if curve.kind == "corner":
            return "Sharp corner: the outside meets at a point."
        low, high = self._inside_radii()
        inside = units.size(max(low, 0.0))
        if high - low > _LEAST_EDGE:
            inside += f" to {units.size(high)}"
        outside = self.curve.radius + max(math.dist(one.outside, one.middle) for one in self._curved())
        return f"Radius: inside {inside}, middle {units.size(curve.radius)}, outside {units.size(outside)}."

    def _bar(self) -> str:
        sections = [self.curve.run[0].start, self.curve.run[-1].end]
        first, last = (self.units.section(one) for one in sections)
        bar = first if first == last else f"{first} to {last}"
        return f"Takes {self.units.length(self.curve.high - self.curve.low)} of bar, {bar}."

    # -- lines -----------------------------------------------------------------------------------

    def _curved(self) -> list[_Rib]:
        """Return the ribs of the curve without its legs."""
        return [one for one in self.ribs if not one.is_leg]

    def _outline(self) -> Iterator[Item]:
        ring = [one.outside for one in self.ribs] + [one.inside for one in reversed(self.ribs)]
        yield Line("outline", tuple(_apart(ring)), closed=True)
        if self.curve.before < _LEAST_LEG:
            return
        first = self.ribs[0]
        x, y = first.inside
        yield Words("inside", (x + 1.5, y + 1.2), SMALL)
        x, y = first.outside
        yield Words("outside", (x + 1.5, y - 1.2 - 0.75 * SMALL), SMALL)

    def _ring(self) -> Iterator[Item]:
        """Yield a ring as two closed lines, with its joint."""
        ribs = self.ribs[:-1]
        for line in ([one.inside for one in ribs], [one.outside for one in ribs]):
            yield Line("outline", tuple(line), closed=True)
        first = self.ribs[0]
        yield Line("marks", (first.inside, first.outside))
        yield Words(
            "joint", (first.outside[0], first.outside[1] - 1.5 - LETTER), LETTER, "middle", strong=True
        )

    def _ends(self) -> Iterator[Item]:
        """Yield the lines where the curve begins and ends."""
        curved = self._curved()
        ends = [(curved[0], "begins"), (curved[-1], "ends")]
        if math.dist(curved[0].outside, curved[-1].outside) < LETTER:
            ends = [(curved[0], "begins and ends")]
        for rib, words in ends:
            (x, y), (to_x, to_y) = rib.outside, rib.inside
            long = math.dist(rib.outside, rib.inside)
            if long < TOUCH:
                continue
            out = ((x - to_x) / long, (y - to_y) / long)
            yield Line("marks", (rib.inside, (x + 4 * out[0], y + 4 * out[1])))
            anchor = "middle" if abs(out[0]) < 0.5 else "start" if out[0] > 0 else "end"
            drop = LETTER * (0.9 if out[1] < -0.5 else 0.0 if out[1] > 0.5 else 0.35)
            stand = (x + 5.0 * out[0], y + 5.0 * out[1] - drop)
            yield Words(words, stand, SMALL, anchor)  # type: ignore[arg-type]

    def _centre_line(self) -> Iterator[Item]:
        """Yield the middle line: true arcs as arcs, all else through spots that miss it by a hair."""
        if self.curve.kind == "scroll" or any(isinstance(one.path, Corner) for one in self.curve.run):
            yield Line("centre", tuple(one.middle for one in self.ribs))
            return
        curved = self._curved()
        legs = self.ribs[: self.ribs.index(curved[0]) + 1], self.ribs[self.ribs.index(curved[-1]) :]
        for leg in legs:
            if len(leg) > 1 and leg[0].at < leg[-1].at:
                yield Line("centre", (leg[0].middle, leg[-1].middle))
        yield Arc(
            "centre", (0.0, self.curve.radius), self.curve.radius, -90.0, -90.0 + min(self.curve.angle, 360)
        )

    def _centres(self) -> Iterator[Item]:
        """Yield the centre the curve is struck from, with the lines to its two ends."""
        if self.curve.kind == "corner":
            return
        if self.curve.kind == "scroll":
            yield from cross(_scroll_centre(self.curve.spirals[0]), 3.0)
            return
        centre = (0.0, self.curve.radius)
        yield from cross(centre, 3.0)
        if self.curve.kind == "bend":
            curved = self._curved()
            for rib in (curved[0], curved[-1]):
                yield Line("centre", (centre, rib.inside), dashed=True)
        elif self.curve.kind == "eye":
            yield Arc("centre", centre, max(self._inside_radii()[0], FINE), dashed=True)


def _ribs(posed: PosedBranch, curve: Curve) -> list[_Rib]:
    """Return the bar at every station, turned so that the curve goes up."""
    view = EDGE if curve.plane == "easy" else PLAN
    ribs: list[_Rib] = []
    first, last = curve.before - TOUCH, curve.before + curve.high - curve.low + TOUCH
    for segment in posed.segments:
        is_leg = segment.high <= first + 2 * TOUCH or segment.low >= last - 2 * TOUCH
        for station in segment.stations:
            x, y = view.flat(station.axes.origin)
            across = left_of(heading(station.axes, view)[0])
            low, high = reach(station.section, station.axes, view, across)
            far, near = (low, high) if curve.turn > 0 else (high, low)
            spots = [(x + across[0] * off, curve.turn * (y + across[1] * off)) for off in (near, 0.0, far)]
            ribs.append(_Rib(station.at, spots[0], spots[1], spots[2], is_leg))
    return ribs


def _apart(spots: Sequence[Spot]) -> Iterator[Spot]:
    """Yield spots, those left out that lie where the one before them does."""
    last: Spot | None = None
    for one in spots:
        if last is None or math.dist(one, last) > 1e-4:
            last = one
            yield one


def _scroll_centre(spiral: Spiral) -> Spot:
    """Return the centre that a spiral winds about when it starts at 0 along X and curls up."""
    sweep = 2 * math.pi * spiral.turns
    grown = spiral.last - spiral.first
    if spiral.law == "logarithmic":
        grown = spiral.first * math.log(spiral.last / spiral.first)
    heading_there = math.atan2(spiral.first, grown / sweep)
    return -spiral.first * math.cos(heading_there), spiral.first * math.sin(heading_there)
