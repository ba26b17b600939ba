"""Length of the slit that a drift opens into a hole."""

from __future__ import annotations

from math import pi

from calculators.figure import Figure
from calculators.figures.holes import hole
from calculators.formula import SHARE, Answer, Cite, Formula, GivenError, given

STRETCH = 0.10  # of the slit's lips as the drift opens them; 0.05 to 0.20 (from memory)
CLOSING = 0.5  # of slit less hole that the bar gets shorter by; between 0 and 1 by geometry (from memory)
_HOLES = {"round": ("round", 1), "square": ("square or oblong", 0)}
SNUG = 1 / 0.95 - 1  # the stretch behind the trade's "half the hole's perimeter less 5 %"


def slit_for(perimeter: float, stretch: float = STRETCH) -> float:
    """Return the length [mm] of slit for a hole's perimeter [mm]: two lips, stretched, go round it."""
    return perimeter / (2 * (1 + stretch))


class SlitLength(Formula):
    """Length of slit for a hole opened on a drift, and what becomes of the bar round it. No metal is lost.

        slit = P / (2 (1 + e)),  P = π·d or 2 (a + b)

    Args:
        hole_length: size of the hole along the bar [mm]; its diameter if round
        hole_width: size of the hole across the bar [mm]; its diameter if round
        bar_width: width of the bar [mm]
        round_hole: 1 for a round hole, 0 for a square or rectangle
        stretch: e, how much the lips stretch
        closing: share of slit less hole by which the bar gets shorter

    Returns:
        Slit [mm], the bar's shortening, the wall each side, and the width over the eye.

    Valid for a slit on the centre line. Half the perimeter is geometry; the stretch is from memory (0.05 to
    0.20), and a trade rule takes 5 %, two sides less 5 % for a square. No published law for the shortening:
    make a test piece.

    Raises:
        ValueError: a size is zero or less, or the hole is round but not as wide as long.

    >>> result = SlitLength(hole_length=20, hole_width=20, bar_width=25).answer()
    >>> [round(a.value, 1) for a in (result, *result.further)]
    [28.6, 4.3, 11.4, 42.7]
    """

    id = "slit_length"
    title = "Slit and drift: how long a slit"
    source = Cite("SLIT-DEMONSTRATION", note="half the perimeter derived here; stretch from memory")
    group = "holes"
    words = ("slit", "slot", "slitting chisel", "pass-through")
    result = "Length of the slit"
    operations = ("slit_drift",)
    any_unit = True

    hole_length: float = given("Hole along the bar", "mm", above=0, example=("20", "3/4"))
    hole_width: float = given("Hole across the bar", "mm", above=0, example=("20", "3/4"))
    bar_width: float = given("Bar width", "mm", above=0, example=("25", "1"))
    round_hole: int = given("Hole", "", at_least=0, at_most=1, default=1, choices=_HOLES)
    stretch: float = given("Stretch", SHARE, at_least=0, at_most=0.5, default=STRETCH)
    closing: float = given("Shortening", SHARE, at_least=0, at_most=1, default=CLOSING)

    def answer(self) -> Answer:
        """Return the length [mm] of the slit."""
        if self.round_hole and self.hole_length != self.hole_width:
            raise GivenError(
                f"A round hole is as wide as long; {self.hole_length:g} by {self.hole_width:g} mm is not.",
                "hole_width",
            )
        if self.round_hole:
            perimeter, said = pi * self.hole_length, f"π × {self.hole_length:g}"
        else:
            perimeter = 2 * (self.hole_length + self.hole_width)
            said = f"2 × ({self.hole_length:g} + {self.hole_width:g})"
        slit = slit_for(perimeter, self.stretch)
        shorter = self.closing * (slit - self.hole_length)
        wall = self.bar_width / 2 / (1 + self.stretch)
        more = f"(1 + {self.stretch:g})"
        further = (
            Answer(shorter, "mm", f"{self.closing:g} × ({slit:.4g} - {self.hole_length:g})", "shorter by"),
            Answer(wall, "mm", f"{self.bar_width:g} / 2 / {more}", "wall"),
            Answer(
                self.hole_width + 2 * wall,
                "mm",
                f"{self.hole_width:g} + 2 × {wall:.4g}",
                "width over the eye",
            ),
        )
        return Answer(slit, "mm", f"{said} / (2 × {more})", further=further)

    def figure(self) -> Figure:
        """Return the hole and its slit."""
        return hole(
            self.hole_length, self.hole_width, self.bar_width, bool(self.round_hole), self.answer().value
        )
