"""Outlines that an end is spread to: a fan, a leaf, an arrow or a disc, all of one thickness."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt
from typing import Literal

from calculators.leaves import bulge_for, leaf_volume
from calculators.roots import rising_root
from calculators.sections import Section
from procedures.engine.pieces.segment import Segment

Shape = Literal["fan", "leaf", "arrow", "disc"]
SHAPES = {
    "fan": "a fan: evenly wider to its end",
    "leaf": "a leaf: two curves that meet at the tip",
    "arrow": "an arrow: widest at its neck, straight to a point",
    "disc": "a disc: a penny end",
}
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
            diameter, edge = disc_diameter(volume, self.thickness), Section.upright(self.thickness)
            return (Segment(edge, edge, diameter, bulge=diameter, circle=(0.0, 1.0)),)
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
