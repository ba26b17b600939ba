"""Laying out a corner forged square: where it turns, and how much bar its legs give to it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import radians, tan

from calculators.formulas.corner_stock import fillet_area, setback
from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Corner, Plane
from procedures.engine.pieces.segment import TOUCH

from .curving import depth, neutral_depth

_ROUNDS = 60  # of settling where the bar tapers; even bar takes two


@dataclass(frozen=True, slots=True)
class CornerShape:
    """A corner as it is laid out: where it turns, and how far [mm] the sides lie from there along the bar.

    `half` is what each leg gives to it, `filled` the bar that goes into the fillet.
    """

    at: float
    half: float
    filled: float
    outside: float
    inside: float

    @property
    def low(self) -> float:
        """Where it begins [mm]."""
        return self.at - self.half - self.filled / 2

    @property
    def high(self) -> float:
        """Where it ends [mm]."""
        return self.at + self.half + self.filled / 2


@dataclass(frozen=True, slots=True)
class Cornering:
    """A corner to be made: its angle [deg], its inside fillet [mm], and the side it goes to."""

    angle: float
    fillet: float
    plane: Plane
    sense: int

    def on(self, section: Section) -> CornerShape:
        """Return the corner on bar of a section, turning at 0."""
        deep = depth(section, self.plane)
        to_inside = neutral_depth(section, self.plane, self.sense)
        inside, outside = setback(to_inside, self.angle), setback(deep - to_inside, self.angle)
        across = section.width if self.plane == "easy" else section.thickness
        filled = fillet_area(self.fillet, self.angle) * across / section.area if section.area > 0 else 0.0
        return CornerShape(0.0, inside + setback(self.fillet, self.angle), filled, outside, inside)

    def laid_out(self, branch: Branch, point: float, meaning: str, *, from_end: bool = False) -> CornerShape:
        """Return the corner as it lies on a branch; it may reach beyond it.

        `point` is its "axis", its "outside_corner" or its "inside_corner" [mm], as `meaning` says; the
        corners are as far from the start of the branch as the point, or from its end when `from_end`. Where
        the bar tapers, the section where it turns counts.
        """
        at = point
        for _ in range(_ROUNDS):
            shape = self.on(branch.section_at(min(max(at, 0.0), branch.length)))
            beyond = {
                "axis": 0.0,
                "outside_corner": shape.filled / 2 - shape.outside,
                "inside_corner": shape.filled / 2 + shape.inside,
            }[meaning]
            before, at = at, point - beyond if from_end else point + beyond
            if abs(at - before) < TOUCH / 1000:
                break
        return replace(shape, at=at)

    def path(self, shape: CornerShape) -> Corner:
        """Return the path of the run of bar that becomes the corner."""
        return Corner(shape.half, shape.half, self.angle, self.plane, self.sense)

    def gathered(self, section: Section) -> float:
        """Return how much more bar [mm] it takes than a plain bend of the same inside radius."""
        deep, half = depth(section, self.plane), radians(self.angle) / 2
        return (tan(half) - half) * (deep + self.fillet) ** 2 / deep
