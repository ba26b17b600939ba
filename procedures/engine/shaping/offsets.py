"""Laying out an offset: two bends, one each way, and the straight ramp between them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.formulas.offset_length import plan_length, ramp_length
from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH

from .curving import Bending

_ROUNDS = 60  # of settling where the bar tapers; even bar takes two


@dataclass(frozen=True)
class Step:
    """An offset laid out on a branch: where it begins, and the bar [mm] in its bends and its ramp."""

    low: float
    first: float
    ramp: float
    second: float
    angle: float

    @property
    def length(self) -> float:
        """Length of bar it takes [mm]."""
        return self.first + self.ramp + self.second

    @property
    def high(self) -> float:
        """Where it ends [mm]."""
        return self.low + self.length

    @property
    def radii(self) -> float:
        """The sum of the radii of both bends on the centre line [mm]."""
        return (self.first + self.second) / math.radians(self.angle)

    @property
    def plan(self) -> float:
        """How far it reaches along the bar [mm]."""
        return plan_length(self.ramp, self.angle, self.radii)

    def bends(self, branch: str) -> tuple[Span, Span]:
        """Return the ranges of the two bends."""
        return Span(branch, self.low, self.low + self.first), Span(branch, self.high - self.second, self.high)


def laid_out(branch: Branch, at: float, height: float, there: Bending, back: Bending, lead: float) -> Step:
    """Return an offset of a height [mm] as it lies on a branch; its ramp is below 0 where none fits.

    `at` is the point it is measured from, `lead` the share of its length before that point: 0 where it
    begins, ½ in the middle of its ramp, 1 where it ends. Each bend goes by the section in its own middle. It
    may reach beyond the branch.
    """
    made = Step(at, 0.0, 0.0, 0.0, there.angle)
    for _ in range(_ROUNDS):
        first = there.length_at(_section(branch, made.low + made.first / 2))
        second = back.length_at(_section(branch, made.high - made.second / 2))
        ramp = ramp_length(height, there.angle, (first + second) / math.radians(there.angle))
        before = first + ramp / 2 if lead == 0.5 else lead * (first + ramp + second)
        settled = Step(at - before, first, ramp, second, there.angle)
        if abs(settled.low - made.low) + abs(settled.length - made.length) < TOUCH / 1000:
            break
        made = settled
    return settled


def _section(branch: Branch, at: float) -> Section:
    return branch.section_at(min(max(at, 0.0), branch.length))
