"""Outlines that an end is spread to: a fan, a leaf, an arrow or a disc, all of one thickness.

A disc is a run of six leaves between places on its circle. Together they hold exactly its metal and are
exactly as wide in the middle; elsewhere the outline keeps within a fiftieth of the diameter of the circle.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, pi, radians, sin, sqrt
from typing import Literal

from calculators.leaves import bulge_for, leaf_volume
from calculators.roots import rising_root
from calculators.sections import Section

from .segment import Segment

Shape = Literal["fan", "leaf", "arrow", "disc"]
SHAPES = {
    "fan": "a fan: evenly wider to its end",
    "leaf": "a leaf: two curves that meet at the tip",
    "arrow": "an arrow: widest at its neck, straight to a point",
    "disc": "a disc: a penny end",
}
_TURNS = (0, 12, 52, 90)  # degrees round a quarter of a disc, between its strips: so the outline is truest
_WIDEST = 100_000.0  # mm, where the search for a width ends


@dataclass(frozen=True, slots=True)
class Outline:
    """An outline of a shape and thickness [mm], from the bar's section `root` to its far end.

    `neck` is how wide [mm] a leaf begins. A disc makes its own width.
    """

    shape: Shape
    thickness: float
    root: Section
    neck: float = 0.0

    def run(self, volume: float, width: float) -> tuple[Segment, ...]:
        """Return the segments that hold a volume [mm³], `width` mm wide, from the bar to the far end."""
        if self.shape == "disc":
            return _disc(volume, self.thickness)
        start, end, bulge = self._ends(width)
        return (Segment(start, end, volume / leaf_volume(start, end, 1.0, bulge), bulge=bulge),)

    def width_for(self, volume: float, length: float) -> float | None:
        """Return the width [mm] at which a volume [mm³] comes to a length [mm]; None where none does."""
        if self.shape == "disc":
            return disc_diameter(volume, self.thickness)

        def held(width: float) -> float:
            return leaf_volume(*self._ends(width)[:2], length, self._ends(width)[2])

        least = max(self.neck, 1e-6)
        return rising_root(held, volume, least, _WIDEST) if held(least) <= volume <= held(_WIDEST) else None

    def _ends(self, width: float) -> tuple[Section, Section, float]:
        tip = Section.upright(self.thickness)
        broad = Section.flat(width, self.thickness)
        if self.shape == "fan":
            return self.root, broad, 0.0
        if self.shape == "arrow":
            return broad, tip, 0.0
        start = Section.flat(self.neck, self.thickness) if self.neck > 0 else tip
        return start, tip, bulge_for(self.neck, 0.0, width)


def disc_diameter(volume: float, thickness: float) -> float:
    """Return the diameter [mm] of a disc of a volume [mm³] and a thickness [mm]."""
    return sqrt(4 * volume / (pi * thickness))


def _disc(volume: float, thickness: float) -> tuple[Segment, ...]:
    diameter = disc_diameter(volume, thickness)
    strips = [_strip(diameter, thickness, *pair) for pair in pairwise(map(radians, _TURNS))]
    tip, shoulder, summit = strips
    level = replace(summit, bulge=(summit.end.width - summit.start.width) / 4)  # its sides end along the bar
    spare = (summit.volume - level.volume) / (thickness * shoulder.length)
    half = (tip, replace(shoulder, bulge=shoulder.bulge + 3 / 2 * spare), level)
    return (*half, *(one.turned() for one in reversed(half)))


def _strip(diameter: float, thickness: float, one: float, two: float) -> Segment:
    """Return the strip of a disc between two angles [rad] round it, with exactly its metal."""
    length = diameter / 2 * (cos(one) - cos(two))
    first, last = (diameter * sin(turn) for turn in (one, two))
    area = diameter**2 / 4 * ((two - one) - (sin(2 * two) - sin(2 * one)) / 2)
    bulge = (area / length - (first + last) / 2) * 3 / 2
    start = Section.flat(first, thickness) if first > 0 else Section.upright(thickness)
    return Segment(start, Section.flat(last, thickness), length, bulge=bulge)
