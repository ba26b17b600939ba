"""Length of bar in an Archimedean scroll, whose coils are evenly spaced."""

from __future__ import annotations

from math import asinh, hypot, pi

from calculators.figure import Figure
from calculators.figures.coils import scroll
from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.roots import rising_root


def spiral_length(inner: float, outer: float, turns: float) -> float:
    """Return the length [mm] of a spiral between two centre-line radii [mm] in so many turns."""
    if abs(outer - inner) <= 1e-6 * (outer + inner):
        return pi * turns * (inner + outer)  # the mean circle: exact to the second order of their difference
    b = abs(outer - inner) / (2 * pi * turns)
    return abs(_from_centre(outer, b) - _from_centre(inner, b))


def turns_for_length(inner: float, outer: float, length: float) -> float:
    """Return the turns of a spiral between two radii [mm] that takes up a length [mm].

    Raises ValueError when the length is not more than the straight way between the radii.
    """
    straight = abs(outer - inner)
    if length <= straight:
        raise ValueError(
            f"{length:g} mm cannot wind from a radius of {inner:g} to {outer:g} mm:"
            f" straight across is already {straight:g} mm."
        )
    most = length / (pi * (inner + outer))  # a spiral is longer than as many turns of its mean circle
    return rising_root(
        lambda turns: spiral_length(inner, outer, turns) if turns else straight, length, 0.0, most
    )


def _from_centre(radius: float, b: float) -> float:
    return (radius * hypot(radius, b) / b + b * asinh(radius / b)) / 2


class ArchimedesSpiral(Formula):
    """Length of bar in an Archimedean scroll: r = a + bθ, every coil the same distance from the next.

        L = ½ [ r·√(r² + b²)/b + b·asinh(r/b) ] between the radii,  b = (r₁ - r₀) / (2π·turns)

    Args:
        inner: inner radius of the centre line [mm]
        outer: outer radius of the centre line [mm]
        turns: number of turns

    Returns:
        Length along the centre line [mm], the pitch, and the shop's check π·turns·(r₀ + r₁).

    Valid for bar of even thickness; exact.

    Raises:
        ValueError: a radius is below zero, the turns are not above zero, or the outer radius is not the
        larger.

    >>> round(ArchimedesSpiral(inner=7, outer=32, turns=1.75).answer().value, 1)
    216.1
    """

    id = "archimedes_spiral"
    title = "Even scroll: the bar it takes"
    source = Cite("DERIVED", note="calculus")
    group = "curved"
    words = ("scroll", "coil", "even scroll", "snub")
    result = "Length of bar"
    operations = ("scroll",)
    any_unit = True

    inner: float = given("Inner radius", "mm", at_least=0, example=("7", "1/4"))
    outer: float = given("Outer radius", "mm", above=0, example=("32", "1 1/4"))
    turns: float = given("Turns", "", above=0, at_most=1000, example=("1.75", "1 3/4"))

    def answer(self) -> Answer:
        """Return the length [mm] along the centre line."""
        if self.outer <= self.inner:
            raise GivenError(
                f"The outer radius, {self.outer:g} mm, must be more than the inner, {self.inner:g} mm.",
                "outer",
            )
        b = (self.outer - self.inner) / (2 * pi * self.turns)
        value = spiral_length(self.inner, self.outer, self.turns)
        pitch = Answer(2 * pi * b, "mm", f"({self.outer:g} - {self.inner:g}) / {self.turns:g}", "pitch")
        check = pi * self.turns * (self.inner + self.outer)
        shop = Answer(check, "mm", f"π × {self.turns:g} × ({self.inner:g} + {self.outer:g})", "shop check")
        working = f"½ [r √(r² + b²)/b + b asinh(r/b)] from {self.inner:g} to {self.outer:g}, b = {b:.6g}"
        return Answer(value, "mm", working, further=(pitch, shop))

    def figure(self) -> Figure:
        """Return the scroll."""
        return scroll(lambda share: self.inner + share * (self.outer - self.inner), self.turns)
