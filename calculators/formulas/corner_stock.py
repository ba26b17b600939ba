"""Length of bar for two legs that meet in a corner forged full and square."""

from __future__ import annotations

from math import pi, radians, tan

from calculators.figure import Figure
from calculators.figures.bends import corner
from calculators.formula import Answer, Cite, Formula, GivenError, given


def setback(depth: float, angle: float) -> float:
    """Return how far [mm] along the bar a corner [deg] reaches at a depth [mm] from its middle line."""
    return depth * tan(radians(angle) / 2)


def fillet_area(fillet: float, angle: float) -> float:
    """Return the area [mm²] that a fillet of a radius [mm] fills inside a corner of an angle [deg]."""
    turn = radians(angle)
    return fillet * fillet * (tan(turn / 2) - turn / 2)


class CornerStock(Formula):
    """Length of bar for a square corner, by the outside lengths of its legs.

        L = X + Y - t + (1 - π/4) r² / t

    Args:
        first_leg: outside length of one leg, X [mm]
        second_leg: outside length of the other, Y [mm]
        thickness: thickness in the plane of the corner, t [mm]
        fillet: radius of the inside fillet, r [mm]

    Returns:
        Length of bar [mm], and how much more that is than for a plain bend of the same inside radius: the
        metal to gather at the corner.

    Valid for square and flat bar, square both ways at 90°; exact by volume. A text for training (Stokes 1992)
    marks off more, a quarter of the thickness over the outside length for each corner, because it upsets
    first and draws the legs out again afterwards.

    Raises:
        ValueError: a length is zero or less, a leg is no longer than the thickness, or the fillet below zero.

    >>> result = CornerStock(first_leg=100, second_leg=80, thickness=12, fillet=3).answer()
    >>> round(result.value, 1), round(result["gathered"].value, 1)
    (168.2, 4.0)
    """

    id = "corner_stock"
    title = "Square corner: the bar it takes"
    source = Cite("DERIVED")
    group = "curved"
    words = ("sharp corner", "square bend", "mitre corner", "right angle")
    result = "Length of bar"
    operations = ("corner",)
    any_unit = True

    first_leg: float = given("First leg, outside", "mm", above=0, example=("100", "4"))
    second_leg: float = given("Second leg, outside", "mm", above=0, example=("80", "3"))
    thickness: float = given("Thickness", "mm", above=0, example=("12", "1/2"))
    fillet: float = given("Inside fillet", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        for name, leg in (("first_leg", self.first_leg), ("second_leg", self.second_leg)):
            if leg <= self.thickness:
                raise GivenError(
                    f"A leg of {leg:g} mm outside lies wholly in a corner {self.thickness:g} mm thick.", name
                )
        filled = fillet_area(self.fillet, 90) / self.thickness
        length = self.first_leg + self.second_leg - self.thickness + filled
        working = f"{self.first_leg:g} + {self.second_leg:g} - {self.thickness:g}"
        if self.fillet:
            working += f" + (1 - π/4) × {self.fillet:g}² / {self.thickness:g}"
        gathered = (1 - pi / 4) * (self.thickness + self.fillet) ** 2 / self.thickness
        more = f"(1 - π/4) × ({self.thickness:g} + {self.fillet:g})² / {self.thickness:g}"
        return Answer(length, "mm", working, further=(Answer(gathered, "mm", more, "gathered"),))

    def figure(self) -> Figure:
        """Return the corner."""
        return corner(self.first_leg, self.second_leg, self.thickness)
