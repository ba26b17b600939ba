"""A fold at the end of a branch, found again, and its flap and seat made one by welding."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch, at_share, in_order, share_at
from procedures.engine.pieces.origin import Slice, in_a_row, part_of, turned, within
from procedures.engine.pieces.path import Arc, Straight
from procedures.engine.pieces.segment import TOUCH, Segment, uniform

from .curving import depth, laid

_HALF_TURN = 0.5  # degrees that a fold may be off half a turn


@dataclass(frozen=True, slots=True)
class Fold:
    """Where a fold lies on a branch, in mm from its start: the turn from `low` to `high`, the flap beyond."""

    low: float
    high: float
    arc: Arc

    @property
    def middle(self) -> float:
        """The outermost place of the fold."""
        return (self.low + self.high) / 2

    def thickness(self, branch: Branch) -> float:
        """Return the thickness [mm] of the bar in the plane of the fold, in the middle of the turn."""
        return depth(branch.section_at(self.middle), self.arc.plane)

    def gap(self, branch: Branch) -> float:
        """Return the gap [mm] between the flap and the bar as folded."""
        return max(2 * self.arc.radius - self.thickness(branch), 0.0)


def fold_at_end(branch: Branch) -> Fold | None:
    """Return the fold whose flap is the end of the branch, or None where there is none."""
    high, index = branch.length, len(branch.segments)
    while index and isinstance(branch.segments[index - 1].path, Straight):
        index -= 1
        high -= branch.segments[index].length
    low, angle = high, 0.0
    arc: Arc | None = None
    while index:
        path = branch.segments[index - 1].path
        if not isinstance(path, Arc) or (arc and (path.plane, path.turn) != (arc.plane, arc.turn)):
            break
        arc = path
        index -= 1
        low -= branch.segments[index].length
        angle += path.angle
    if arc is None or abs(angle - 180) > _HALF_TURN or high >= branch.length:
        return None
    return Fold(low, high, replace(arc, angle=angle))


@dataclass(frozen=True, slots=True)
class FoldWeld:
    """A fold to be welded: `eye` mm of bar round its middle stay an eye, the flap beyond goes into the seat.

    The seat is the run of `seat` mm before the eye.
    """

    fold: Fold
    eye: float
    seat: float

    @property
    def eye_low(self) -> float:
        """Where the eye begins, and the seat ends."""
        return self.fold.middle - self.eye / 2

    @property
    def eye_high(self) -> float:
        """Where the eye ends, and the flap begins."""
        return self.fold.middle + self.eye / 2

    @property
    def seat_low(self) -> float:
        """Where the seat begins."""
        return self.eye_low - self.seat

    def welded(self, branch: Branch, dressed: Section) -> tuple[Branch, Callable[[float], float]]:
        """Return the branch with flap and seat made one run of this section, and where its places go."""
        merging = self._merging(branch)
        weld = replace(uniform(dressed, merging.volume / dressed.area), origin=merging.origin())
        eye = self._rounded(branch)
        new = replace(branch, segments=(*branch.segments_between(0.0, self.seat_low), weld, *eye))

        def move(at: float) -> float:
            if at <= self.seat_low:
                return at
            if self.eye_low < at <= self.eye_high:
                return self.seat_low + weld.length + at - self.eye_low
            inside = merging.share_of_seat(at - self.seat_low)
            share = inside if at <= self.eye_low else merging.share_of_flap(at - self.eye_high)
            return self.seat_low + at_share((weld,), share)

        gain = new.length - branch.length
        marks = [
            replace(one, at=one.at + gain if one.holds == "end" else move(one.at)) for one in branch.marks
        ]
        features = tuple(one.moved(move) for one in branch.features)
        return replace(new, marks=in_order(marks, new.length), features=features), move

    def _merging(self, branch: Branch) -> _Merging:
        seat = branch.segments_between(self.seat_low, self.eye_low)
        flap = branch.segments_between(self.eye_high, branch.length)
        bare = self.seat - (branch.length - self.eye_high)
        alone = branch.volume_between(self.seat_low, self.seat_low + bare) if bare > TOUCH else 0.0
        return _Merging(seat, flap, alone)

    def _rounded(self, branch: Branch) -> tuple[Segment, ...]:
        """Return the eye, bent round to where it began."""
        if self.eye <= 0:
            return ()
        run = [replace(one, layers=1) for one in branch.segments_between(self.eye_low, self.eye_high)]
        arc = self.fold.arc
        return laid(run, Arc(self.eye / math.tau, 360.0, arc.plane, arc.turn))


@dataclass(frozen=True, slots=True)
class _Merging:
    """A seat and the flap that lies on the far part of it, turned; `alone` [mm³] of the seat is bare."""

    seat: tuple[Segment, ...]
    flap: tuple[Segment, ...]
    alone: float

    @property
    def volume(self) -> float:
        """Volume of both [mm³]."""
        return sum(one.volume for one in (*self.seat, *self.flap))

    @property
    def _bare(self) -> tuple[float, float]:
        """The share of the seat, and of the weld, that the flap does not reach."""
        return self.alone / sum(one.volume for one in self.seat), self.alone / self.volume

    def share_of_seat(self, at: float) -> float:
        """Return the share of the weld's volume within which the seat's metal up to `at` [mm] lies."""
        of_seat, of_weld = self._bare
        share = share_at(self.seat, at)
        if share < of_seat:
            return of_weld * share / of_seat
        return of_weld + (1 - of_weld) * (share - of_seat) / (1 - of_seat)

    def share_of_flap(self, at: float) -> float:
        """Return the same for the metal of the flap, which lies the other way round."""
        _, of_weld = self._bare
        return 1 - (1 - of_weld) * share_at(self.flap, at)

    def origin(self) -> tuple[Slice, ...]:
        """Return where the metal of the weld came from: the bare seat, then seat and flap as layers."""
        of_seat, of_weld = self._bare
        seat = in_a_row([(one.origin, one.volume) for one in self.seat])
        flap = in_a_row([(one.origin, one.volume) for one in self.flap])
        return (
            *within(part_of(seat, 0.0, of_seat), 0.0, of_weld),
            *within(part_of(seat, of_seat, 1.0), of_weld, 1.0),
            *within(turned(flap), of_weld, 1.0),
        )
