"""Length of a collar, set hot round a bundle of bars."""

from __future__ import annotations

from math import pi

from calculators.figure import Figure
from calculators.figures.heads import collar
from calculators.formula import Answer, Cite, Formula, given
from calculators.formulas.thermal_expansion import elongation

LAP = 1.5  # thicknesses of overlap where the ends are lapped: common practice
FLAT, HALF_ROUND = 0.5, 4 / (3 * pi)  # how high the middle of the metal lies, as a share of the thickness
_SHAPES = {"flat": ("flat", FLAT), "half_round": ("half-round, its flat inside", HALF_ROUND)}


def closing_length(perimeter: float, thickness: float, middle: float = FLAT, laps: float = 0.0) -> float:
    """Return the length [mm] of a collar that closes round a perimeter [mm]; `laps` in thicknesses."""
    return perimeter + 2 * pi * middle * thickness + laps * thickness


def shrinkage(perimeter: float, temperature: float) -> float:
    """Return how much less [mm] a perimeter measures inside a collar closed at a temperature [°C]."""
    return perimeter * elongation(temperature)


class CollarLength(Formula):
    """Length of bar for a collar round a bundle, closed on sharp corners, and how much it shrinks on.

        L = 2 (W + H) + 2π · m · t + laps · t

    Args:
        width: W, of the bundle [mm]
        height: H, of the bundle [mm]
        thickness: t, of the collar's bar [mm]
        middle: m, how high the middle of its metal lies: 0.5 of t in a flat, 0.424 in a half-round
        laps: overlap, in thicknesses: 0 butted, 1.5 lapped
        temperature: at which it is closed [°C]

    Returns:
        Length [mm]; the trade's shorter length, which the hammer stretches shut; and how much it shrinks on.

    Valid for corners that are sharp inside and round outside; exact by volume, so it is the longest that
    holds. Trade rules: perimeter + 2 t butted (Rural Industries Bureau; Sims), + 2½ t lapped (Whitaker),
    + ⅛ in for ⅜ in half-oval (Ilgen).

    Raises:
        ValueError: a size is zero or less, or the temperature outside 20 to 1300 °C.

    >>> answer = CollarLength(width=24, height=12, thickness=4).answer()
    >>> [round(one.value, 1) for one in (answer, *answer.further)]
    [84.6, 80.0, 0.8]
    """

    id = "collar_length"
    title = "Collar: the bar it takes"
    source = Cite("DERIVED", note="trade rules: The Blacksmith's Craft, Whitaker, Ilgen")
    group = "joined"
    words = ("clip", "band", "collar round a bundle")
    result = "Length of bar"
    operations = ("collar",)
    any_unit = True

    width: float = given("Bundle's width", "mm", above=0, example=("24", "1"))
    height: float = given("Bundle's height", "mm", above=0, example=("12", "1/2"))
    thickness: float = given("Collar's thickness", "mm", above=0, example=("4", "1/8"))
    middle: float = given("Bar of the collar", "", above=0, below=1, default=FLAT, choices=_SHAPES)
    laps: float = given("Lap, in thicknesses", "", at_least=0, at_most=5, default=0.0)
    temperature: float = given("Closed at", "°C", at_least=20, at_most=1300, default=850.0)

    def answer(self) -> Answer:
        """Return the length [mm]."""
        around = 2 * (self.width + self.height)
        length = closing_length(around, self.thickness, self.middle, self.laps)
        rule = around + (2.5 if self.laps else 2.0) * self.thickness
        said = f"{around:g} + {2.5 if self.laps else 2:g} × {self.thickness:g}"
        further = (
            Answer(rule, "mm", said, "by the trade's rule"),
            Answer(
                shrinkage(around, self.temperature),
                "mm",
                f"{around:g} × {elongation(self.temperature):.4g}",
                "shrinks on by",
            ),
        )
        working = f"2 × ({self.width:g} + {self.height:g}) + 2π × {self.middle:.3g} × {self.thickness:g}"
        return Answer(
            length,
            "mm",
            working + (f" + {self.laps:g} × {self.thickness:g}" if self.laps else ""),
            further=further,
        )

    def figure(self) -> Figure:
        """Return the collar round its bundle."""
        return collar(self.width, self.height, self.thickness)
