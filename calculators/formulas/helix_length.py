"""Length of bar in an open coil."""

from __future__ import annotations

from math import atan2, degrees, hypot, pi

from calculators.figure import Figure
from calculators.figures.coils import coil
from calculators.formula import Answer, Cite, Formula, given
from calculators.wording import Sentence, say


class HelixLength(Formula):
    """Length of bar wound into a coil: a spring, a spiral baluster, a corkscrew.

        L = n · √((π D)² + p²)

    Args:
        inside_diameter: what it is wound on [mm]
        thickness: of the bar [mm]; D is measured to its middle
        turns: n
        pitch: p, from a turn to the next, along the axis [mm]

    Returns:
        Length of bar [mm], how long the coil is, and how steeply it climbs.

    Valid for even bar; exact on the middle of the bar.

    Raises:
        ValueError: a size is zero or less.

    >>> answer = HelixLength(inside_diameter=36, thickness=4, turns=5, pitch=12).answer()
    >>> round(answer.value, 1)
    631.2
    """

    id = "helix_length"
    title = "Helix: the bar it takes"
    source = Cite("DERIVED")
    group = "wound"
    words = ("helix", "coil", "spring", "spiral", "corkscrew")
    result = "Length of bar"
    operations = ("wrap",)
    any_unit = True

    inside_diameter: float = given("Inside diameter", "mm", above=0, example=("36", "1 1/2"))
    thickness: float = given("Thickness", "mm", above=0, example=("8", "5/16"))
    turns: float = given("Turns", "", above=0, at_most=1000, example=("5", "5"))
    pitch: float = given("Pitch", "mm", above=0, example=("24", "1"))

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        middle = self.inside_diameter + self.thickness
        one = hypot(pi * middle, self.pitch)
        climb = degrees(atan2(self.pitch, pi * middle))
        further = (
            Answer(one, "mm", f"√((π × {middle:g})² + {self.pitch:g}²)", "one turn"),
            Answer(self.turns * self.pitch, "mm", f"{self.turns:g} × {self.pitch:g}", "coil is long"),
            Answer(climb, "°", f"arctan ({self.pitch:g} / (π × {middle:g}))", "climbs at"),
        )
        warnings: tuple[Sentence, ...] = ()
        if self.pitch < self.thickness:
            warnings = (say("Turns closer than the bar is thick would lie in each other."),)
        working = f"{self.turns:g} × √((π × {middle:g})² + {self.pitch:g}²)"
        return Answer(self.turns * one, "mm", working, further=further, warnings=warnings)

    def figure(self) -> Figure:
        """Return the coil from its side."""
        return coil(self.inside_diameter + self.thickness, self.thickness, self.turns, self.pitch)
