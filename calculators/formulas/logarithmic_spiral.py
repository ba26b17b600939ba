"""Length of bar in a logarithmic scroll, whose coils open out in proportion."""

from __future__ import annotations

from math import hypot, log, pi, sqrt

from calculators.figure import Figure
from calculators.figures.coils import scroll
from calculators.formula import Answer, Cite, Formula, GivenError, given


def spiral_length(inner: float, outer: float, turns: float) -> float:
    """Return the length [mm] of a spiral between two centre-line radii [mm] in so many turns."""
    growth = abs(log(outer / inner))
    if growth <= 1e-6:
        return pi * turns * (inner + outer)  # the mean circle: exact to the second order of their difference
    k = growth / (2 * pi * turns)
    return abs(outer - inner) * hypot(1, k) / k


def turns_for_length(inner: float, outer: float, length: float) -> float:
    """Return the turns of a spiral between two different radii [mm] that takes up a length [mm].

    Raises ValueError when the length is not more than the straight way between the radii.
    """
    straight = abs(outer - inner)
    if length <= straight:
        raise ValueError(
            f"{length:g} mm cannot wind from a radius of {inner:g} to {outer:g} mm:"
            f" straight across is already {straight:g} mm."
        )
    growth = abs(log(outer / inner))
    if growth <= 1e-6:
        return length / (pi * (inner + outer))
    # L/s = √(1 + k²)/k, so k = 1/√((L/s)² - 1); the difference of squares keeps its figures near the straight
    # way.
    return growth * sqrt((length - straight) * (length + straight)) / straight / (2 * pi)


class LogarithmicSpiral(Formula):
    """Length of bar in a logarithmic scroll: r = r₀·e^(kθ), every coil in the same proportion to the next.

        L = (r₁ - r₀)·√(1 + k²)/k,  k = ln(r₁/r₀) / (2π·turns)

    Args:
        inner: inner radius of the centre line [mm]
        outer: outer radius of the centre line [mm]
        turns: number of turns

    Returns:
        Length along the centre line [mm], and how many times each coil is as wide as the one inside it.

    Valid for bar of even thickness; exact.

    Raises:
        ValueError: a radius or the turns are not above zero, or the outer radius is not the larger.

    >>> round(LogarithmicSpiral(inner=7, outer=32, turns=1.75).answer().value, 1)
    182.6
    """

    id = "logarithmic_spiral"
    title = "Opening scroll: the bar it takes"
    source = Cite("DERIVED", note="calculus")
    group = "curved"
    words = ("scroll", "running scroll", "fishtail scroll", "growing scroll")
    result = "Length of bar"
    operations = ("scroll",)
    any_unit = True

    inner: float = given("Inner radius", "mm", above=0, example=("7", "1/4"))
    outer: float = given("Outer radius", "mm", above=0, example=("32", "1 1/4"))
    turns: float = given("Turns", "", above=0, at_most=1000, example=("1.75", "1 3/4"))

    def answer(self) -> Answer:
        """Return the length [mm] along the centre line."""
        if self.outer <= self.inner:
            raise GivenError(
                f"The outer radius, {self.outer:g} mm, must be more than the inner, {self.inner:g} mm.",
                "outer",
            )
        k = log(self.outer / self.inner) / (2 * pi * self.turns)
        value = spiral_length(self.inner, self.outer, self.turns)
        opening = (self.outer / self.inner) ** (1 / self.turns)
        coil = Answer(
            opening, "", f"({self.outer:g} / {self.inner:g})^(1/{self.turns:g})", "opening per turn"
        )
        working = f"({self.outer:g} - {self.inner:g}) √(1 + k²)/k, k = {k:.6g}"
        return Answer(value, "mm", working, further=(coil,))

    def figure(self) -> Figure:
        """Return the scroll."""
        return scroll(lambda share: self.inner * (self.outer / self.inner) ** share, self.turns)
