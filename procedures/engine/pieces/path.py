"""The line a segment's centre follows: straight, an arc, a spiral or a sharp corner. Degrees and mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from calculators.formulas import archimedes_spiral, logarithmic_spiral

Plane = Literal["easy", "hard"]
Law = Literal["archimedes", "logarithmic"]


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight centreline."""

    kind = "straight"

    def cut(self, length: float, at: float) -> tuple[Straight, Straight]:
        """Return the paths before and after the distance `at` of a segment of this `length`."""
        return self, self

    def turned(self) -> Straight:
        """Return the same line followed from its other end."""
        return self


STRAIGHT = Straight()


@dataclass(frozen=True, slots=True)
class Arc:
    """A bend: centreline `radius`, `angle` > 0, in the easy way (through the thickness) or the hard way
    (on edge); `turn` is +1 towards the positive side (up, or left seen from above), -1 the other way."""

    radius: float
    angle: float
    plane: Plane = "easy"
    turn: int = 1
    kind = "arc"

    @property
    def length(self) -> float:
        """Length of the centreline [mm]."""
        return math.radians(self.angle) * self.radius

    def cut(self, length: float, at: float) -> tuple[Arc, Arc]:
        """Return the two arcs on either side of the distance `at`."""
        first = self.angle * at / length
        return replace(self, angle=first), replace(self, angle=self.angle - first)

    def turned(self) -> Arc:
        """Return the same arc followed from its other end, the bar turned round with the same face up."""
        return replace(self, turn=_turned(self.plane, self.turn))


@dataclass(frozen=True, slots=True)
class Spiral:
    """A scroll from centreline radius `first` to `last` through `turns`, by the law named."""

    first: float
    last: float
    turns: float
    law: Law = "archimedes"
    plane: Plane = "easy"
    turn: int = 1
    kind = "spiral"

    @property
    def length(self) -> float:
        """Length of the centreline [mm]."""
        return self._length_to(self.last, self.turns)

    def radius_at(self, share: float) -> float:
        """Return the radius after this share (0..1) of the turns."""
        if self.law == "logarithmic":
            return float(self.first * (self.last / self.first) ** share)
        return self.first + (self.last - self.first) * share

    def cut(self, length: float, at: float) -> tuple[Spiral, Spiral]:
        """Return the two spirals on either side of the distance `at`."""
        share = self.share_at(at / length)
        radius = self.radius_at(share)
        first = replace(self, last=radius, turns=self.turns * share)
        return first, replace(self, first=radius, turns=self.turns * (1 - share))

    def share_at(self, fraction: float) -> float:
        """Return the share of the turns at which this fraction of the length is reached, by bisection."""
        wanted = fraction * self.length
        low, high = 0.0, 1.0
        for _ in range(60):
            middle = (low + high) / 2
            short = self._length_to(self.radius_at(middle), self.turns * middle) < wanted
            low, high = (middle, high) if short else (low, middle)
        return (low + high) / 2

    def _length_to(self, radius: float, turns: float) -> float:
        even, growing = archimedes_spiral.spiral_length, logarithmic_spiral.spiral_length
        length = growing if self.law == "logarithmic" else even
        small, large = sorted((self.first, radius))
        return length(small, large, turns) if turns > 0 else 0.0

    def turned(self) -> Spiral:
        """Return the same spiral followed from its other end, the bar turned round with the same face up."""
        return replace(self, first=self.last, last=self.first, turn=_turned(self.plane, self.turn))


@dataclass(frozen=True, slots=True)
class Corner:
    """A sharp corner: a straight `before` mm long, a turn through `angle` on the spot, a straight `after`.

    `plane` and `turn` are those of an arc. A segment longer than its two straights holds the rest of its
    metal, such as a fillet, where it turns.
    """

    before: float
    after: float
    angle: float
    plane: Plane = "easy"
    turn: int = 1
    kind = "corner"

    @property
    def length(self) -> float:
        """Length of the centreline [mm]."""
        return self.before + self.after

    def reach_to(self, length: float, at: float) -> tuple[float, float, bool]:
        """Return (mm along the first straight, mm along the second, whether it has turned) at a distance.

        `length` is that of the segment and `at` the distance from its start; the end has always turned.
        """
        if at >= length:
            return self.before, self.after, True
        beyond = at - (length - self.after)
        return min(at, self.before), max(beyond, 0.0), beyond > 0 or at > self.before

    def cut(self, length: float, at: float) -> tuple[Corner | Straight, Corner | Straight]:
        """Return the paths before and after the distance `at`: one of them keeps the whole turn."""
        first, second, is_turned = self.reach_to(length, at)
        if is_turned:
            return replace(self, after=second), STRAIGHT
        return STRAIGHT, replace(self, before=self.before - first)

    def turned(self) -> Corner:
        """Return the same corner followed from its other end, the bar turned round with the same face up."""
        turn = _turned(self.plane, self.turn)
        return replace(self, before=self.after, after=self.before, turn=turn)


def _turned(plane: Plane, turn: int) -> int:
    """Return the side a curve goes to once the bar is turned round: up stays up, left becomes right."""
    return turn if plane == "easy" else -turn


Path = Straight | Arc | Spiral | Corner
