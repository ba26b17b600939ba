"""Holes to be made: their size, the metal they take up, and what stands round them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch, Feature
from procedures.engine.pieces.feature import Shape
from procedures.engine.pieces.place import Span

Face = Literal["flat", "edge"]
SHAPES = {
    "round": "round",
    "square": "square",
    "rectangle": "rectangle",
    "slot": "slot, round at its ends",
}
LONG = ("rectangle", "slot")  # shapes with a length along the bar of their own
FACES = {"flat": "through the thickness", "edge": "from an edge, through the width"}
_STRIPS = 64  # across a hole through a section that is not of one thickness


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole of a shape, `length` mm along the bar and `width` mm across it, made from a face.

    A slot is as long as wide at least.
    """

    shape: Shape
    length: float
    width: float
    face: Face = "flat"

    @property
    def section(self) -> Section:
        """The hole's outline as a section, for words: ø8, □8, 12 × 6."""
        if self.shape == "round" or (self.shape == "slot" and self.length <= self.width):
            return Section.round(self.width)
        if self.shape == "slot":
            return Section.rounded_flat(self.length, self.width, self.width / 2)
        return Section.flat(self.length, self.width)

    @property
    def area(self) -> float:
        """Area [mm²]."""
        return self.section.area

    @property
    def perimeter(self) -> float:
        """Length of its edge [mm]."""
        return self.section.perimeter

    def across(self, section: Section) -> float:
        """Return how wide the bar is [mm] where the hole goes across it."""
        return section.width if self.face == "flat" else section.thickness

    def through(self, section: Section) -> float:
        """Return how deep the hole is [mm]: the mean over its area where the section is not of one depth."""
        if section.shape in ("flat", "square"):
            return section.thickness if self.face == "flat" else section.width
        outline = [(y, z) if self.face == "flat" else (z, y) for y, z in section.outline(64)]
        depths = [(self._along(y), _chord(outline, y)) for y in self._strips()]
        return sum(along * chord for along, chord in depths) / sum(along for along, _ in depths)

    def _strips(self) -> Iterator[float]:
        step = self.width / _STRIPS
        return (step * (index + 0.5) - self.width / 2 for index in range(_STRIPS))

    def _along(self, y: float) -> float:
        if self.shape in ("square", "rectangle"):
            return self.length
        straight = self.length - self.width if self.shape == "slot" else 0.0
        return straight + 2 * math.sqrt(max((self.width / 2) ** 2 - y * y, 0.0))


def _chord(outline: list[tuple[float, float]], y: float) -> float:
    """Return how high a convex outline stands over its breadth at `y`; 0 beyond it."""
    heights = []
    before = outline[-1]
    for here in outline:
        (y0, z0), (y1, z1) = before, here
        if min(y0, y1) <= y <= max(y0, y1) and y0 != y1:
            heights.append(z0 + (z1 - z0) * (y - y0) / (y1 - y0))
        before = here
    return max(heights) - min(heights) if heights else 0.0


def holes_between(branch: Branch, span: Span, reach: float = 0.0) -> tuple[Feature, ...]:
    """Return the holes and grooves of a branch that touch a range, or come nearer to it than `reach` [mm]."""
    return tuple(
        one
        for one in branch.features
        if one.kind not in ("dish", "chamfer")
        and one.at + one.length / 2 > span.low - reach
        and one.at - one.length / 2 < span.high + reach
    )


def free_names(branch: Branch, base: str, count: int) -> tuple[str, ...]:
    """Return so many names that no hole of the branch has: the base alone for one, else numbered."""
    taken = {one.name for one in branch.features}
    if count == 1 and base not in taken:
        return (base,)
    numbered = (f"{base} {number}" for number in range(1, len(taken) + count + 2))
    return tuple(name for name in numbered if name not in taken)[:count]
