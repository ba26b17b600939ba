"""Length of bar for a ring of an inside diameter."""

from __future__ import annotations

from math import pi

from calculators.figure import Figure
from calculators.figures.rings import ring
from calculators.formula import Answer, Cite, Formula, given


def blank_length(inside_diameter: float, thickness: float, allowance: float = 0.0) -> float:
    """Return the length [mm] of bar for a ring, on its centre line, and an allowance [mm] for the weld."""
    return pi * (inside_diameter + thickness) + allowance


def inside_diameter(length: float, thickness: float) -> float:
    """Return the inside diameter [mm] of a ring closed from a length [mm] of bar of a thickness [mm]."""
    return length / pi - thickness


class RingBlank(Formula):
    """Length of bar for a ring, by its inside diameter.

        L = π (D + t) + allowance

    Args:
        inside_diameter: inside diameter [mm]
        thickness: thickness of the bar in the plane of the ring [mm]
        allowance: for the weld [mm]

    Returns:
        Length of bar [mm].

    Valid for even bar; exact by volume. Weld allowances differ: ⅜ of the thickness (Googerty), one thickness
    (widely taught, no source). They pay for scale; geometry needs none.

    Raises:
        ValueError: a size is zero or less, or the allowance below zero.

    >>> round(RingBlank(inside_diameter=80, thickness=10, allowance=3.75).answer().value, 1)
    286.5
    """

    id = "ring_blank"
    title = "Ring: the bar it takes"
    source = Cite("ILGEN", "article 111")
    group = "curved"
    words = ("ring", "circle", "hoop", "collar ring")
    result = "Length of bar"
    operations = ("weld_ring", "bend")
    any_unit = True

    inside_diameter: float = given("Inside diameter", "mm", above=0, example=("80", "3"))
    thickness: float = given("Thickness", "mm", above=0, example=("10", "3/8"))
    allowance: float = given("Weld allowance", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        length = blank_length(self.inside_diameter, self.thickness, self.allowance)
        working = f"π × ({self.inside_diameter:g} + {self.thickness:g})"
        return Answer(length, "mm", working + (f" + {self.allowance:g}" if self.allowance else ""))

    def figure(self) -> Figure:
        """Return the ring."""
        return ring(self.inside_diameter, self.thickness)
