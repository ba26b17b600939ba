"""A cage of rods, welded together at both ends and opened: its lengths, its spindle, what is in its way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import pi, sin

from calculators.formulas.basket_length import basket_length, closed_radius, rod_length
from calculators.roots import rising_root
from calculators.sections import Section
from procedures.engine.finding import Finding, stop
from procedures.engine.pieces.branch import Branch, Feature, in_order, share_at
from procedures.engine.pieces.origin import Slice, part_of
from procedures.engine.pieces.piece import Joint, Piece
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import TOUCH, Segment, uniform

from .checks import end_taken, in_the_way, plain_bar
from .dressing import origin_of
from .holes import free_names, holes_between

FEWEST = 3  # rods that make a cage
_PARTS = 2  # of the spindle that the rods lie in: more would all be labelled
_UNLIKE = 0.01  # of a rod's length or area by which another may differ: our judgement


@dataclass(frozen=True)
class Cage:
    """Rods, the bar itself first, of which `weld` mm is welded at each end and dressed to one section.

    Between the welds the rods wind round the axis by `turns`, their middles `bulge` mm from it at the widest
    place. The run is told as the spindle they lie in, and a feature of it takes off what is hollow.
    """

    rods: tuple[Branch, ...]
    weld: float
    dressed: Section
    turns: float
    bulge: float

    @property
    def thickness(self) -> float:
        """Thickness of a rod [mm]."""
        own = self.rods[0]
        return own.section_at(own.length / 2).width

    @property
    def closed(self) -> float:
        """How far from the axis the middle of each rod lies at the welds [mm]."""
        return closed_radius(self.thickness, len(self.rods))

    @property
    def free(self) -> float:
        """Length of a rod between the welds [mm]."""
        return self.rods[0].length - 2 * self.weld

    @cached_property
    def length(self) -> float:
        """Length of the cage along its axis [mm]."""
        return basket_length(self.free, self.turns, self.bulge, self.closed)

    def _volume(self, low: float, high: float) -> float:
        """Return the volume of all rods between two shares of their length [mm³]."""
        return sum(one.volume_between(low * one.length, high * one.length) for one in self.rods)

    @property
    def _share(self) -> float:
        return self.weld / self.rods[0].length

    @property
    def end_volume(self) -> float:
        """Volume of the less of the two welded ends [mm³]."""
        return min(self._volume(0, self._share), self._volume(1 - self._share, 1))

    @property
    def end_length(self) -> float:
        """Length of the first welded end once it is dressed [mm]."""
        return self._volume(0, self._share) / self.dressed.area

    def _origin(self, low: float, high: float) -> tuple[Slice, ...]:
        rods = self.rods
        return tuple(part for one in rods for part in origin_of(one, low * one.length, high * one.length))

    def _spindle(self, turns: float) -> tuple[Segment, ...]:
        """Return the run that the rods lie in: round, thickest in the middle."""
        thick, swell = self.thickness, self.bulge - self.closed
        places = [index / _PARTS for index in range(_PARTS + 1)]
        origin, run, done = self._origin(self._share, 1 - self._share), [], 0.0
        wide = [Section.round(2 * (self.closed + swell * sin(pi * one)) + thick) for one in places]
        for first, last in pairwise(wide):
            run.append(Segment(first, last, self.length / _PARTS, twist=turns / _PARTS))
        whole = sum(one.volume for one in run)
        carried = []
        for one in run:
            low, done = done / whole, done + one.volume
            carried.append(replace(one, origin=part_of(origin, low, min(done / whole, 1.0))))
        return tuple(carried)

    def made(self, name: str, *, left: bool) -> Branch:
        """Return the bar with its two welded ends and the spindle between them."""
        own, share = self.rods[0], self._share
        first, last = (self._volume(*ends) / self.dressed.area for ends in ((0, share), (1 - share, 1)))
        spindle = self._spindle(-self.turns if left else self.turns)
        metal = self._volume(share, 1 - share)
        ends = (
            replace(uniform(self.dressed, first), origin=self._origin(0, share)),
            replace(uniform(self.dressed, last), origin=self._origin(1 - share, 1)),
        )
        wide = 2 * self.bulge + self.thickness
        (called,) = free_names(own, "basket", 1)
        hollow = metal - sum(one.volume for one in spindle)
        at = first + self.length / 2
        feature = Feature("basket", called, at, "round", self.length, wide, hollow, turns=self.turns)
        long = first + self.length + last
        marks = [
            one
            if one.holds == "start"
            else replace(one, at=one.at + long - own.length if one.holds == "end" else self.move(one.at))
            for one in own.marks
        ]
        segments = (ends[0], *spindle, ends[1])
        return replace(own, segments=segments, marks=in_order(marks, long), features=(feature,))

    def move(self, at: float) -> float:
        """Return where a place of the bar [mm from its start] goes."""
        own, first = self.rods[0], self.end_length
        if at <= self.weld + TOUCH:
            run = own.segments_between(0, self.weld)
            return first * share_at(run, at)
        if at >= own.length - self.weld - TOUCH:
            run = own.segments_between(own.length - self.weld, own.length)
            last = self._volume(1 - self._share, 1) / self.dressed.area
            return first + self.length + last * share_at(run, at - (own.length - self.weld))
        return first + self._along((at - self.weld) / self.free) * self.length

    def _along(self, share: float) -> float:
        """Return the share of the cage's length within which this share of a rod's lies."""

        def run(upto: float) -> float:
            return rod_length(self.length, self.turns, self.bulge, self.closed, upto)

        return rising_root(run, share * run(1.0), 0.0, 1.0)

    def joints(self, key: str) -> tuple[Joint, ...]:
        """Return the weld at each end."""
        own, first = self.rods[0].name, self.end_length
        last = self._volume(1 - self._share, 1) / self.dressed.area
        places = (first / 2, first + self.length + last / 2)
        return tuple(
            Joint("fagot_weld", (Point(own, at),), f"{key} weld {number}", key)
            for number, at in enumerate(places, start=1)
        )


def rods_fit(piece: Piece, cage: Cage, other: Piece, key: str) -> Iterator[Finding]:
    """Stop rods that make no such cage."""
    own, rod = cage.rods[0], other.root
    for branch, held, field in ((own, piece, "on"), (rod, other, "part")):
        span = Span(branch.name, 0.0, branch.length)
        for found in plain_bar(branch, span):
            yield replace(found, field=field)
        yield from end_taken(held, branch.name, "start", field)
        yield from end_taken(held, branch.name, "end", field)
        yield from in_the_way(held, branch, span, field, holes=holes_between(branch, span))
    alike = abs(rod.length - own.length) <= _UNLIKE * own.length
    same = abs(rod.volume - own.volume) <= 2 * _UNLIKE * own.volume
    if len(other.branches) > 1 or not (alike and same):
        yield stop(
            "basket.rods_unlike",
            "The bar is {own:length} long, and the {part} {other:length}: rods of a basket are alike.",
            hint="Cut and draw them alike, without branches.",
            own=own.length,
            part=key,
            other=rod.length,
            field="part",
            source="geometry",
        )
    elif cage.free <= 0:
        yield stop(
            "basket.all_welded",
            "With {weld:length} welded at each end nothing is left of {own:length} to open.",
            hint="Weld less, or take longer rods.",
            weld=cage.weld,
            own=own.length,
            field="weld",
            source="geometry",
        )
    elif cage.bulge <= cage.closed:
        yield stop(
            "basket.not_open",
            "{bulge:size} from the axis the rods touch still: so they lie {closed:size} from it.",
            hint="Open it wider.",
            bulge=cage.bulge,
            closed=cage.closed,
            field="bulge",
            source="geometry",
        )
    elif rod_length(0.0, cage.turns, cage.bulge, cage.closed) >= cage.free:
        yield stop(
            "basket.too_many_turns",
            "{turns:number} turns at that bulge take all of the {free:length} of rod between the welds.",
            hint="Take fewer turns, a smaller bulge, or longer rods.",
            turns=cage.turns,
            free=cage.free,
            field="turns",
            source="geometry",
        )
