"""A groove made by a round fuller: its width, the metal it drives aside, how much longer the bar gets."""

from __future__ import annotations

from math import acos, cos, pi, sqrt

from calculators.figure import Figure
from calculators.figures.holes import groove
from calculators.formula import SHARE, Answer, Cite, Formula, GivenError, given
from calculators.wording import say

LEAST_RADIUS = 3.0  # mm, below which the groove starts a crack (from memory)
LEAST_OF_THICKNESS = 1 / 4  # of the bar's thickness, the same
LEAST_LEFT = 0.4  # of the bar's thickness that must be left (from memory)
_SIDES = {"one": ("on one side", 1), "both": ("on both sides", 2)}
_PARTS = 64  # of the half groove, by Simpson's rule


def groove_width(radius: float, depth: float) -> float:
    """Return the width [mm] of a groove of a depth [mm], made with a tool of a radius [mm]."""
    return 2 * radius if depth >= radius else 2 * sqrt((2 * radius - depth) * depth)


def groove_area(radius: float, depth: float) -> float:
    """Return the area [mm²] of a groove as seen from the side of the bar."""
    if depth >= radius:
        return pi * radius**2 / 2 + 2 * radius * (depth - radius)
    return radius**2 * acos((radius - depth) / radius) - (radius - depth) * groove_width(radius, depth) / 2


def depth_squared(radius: float, depth: float) -> float:
    """Return the integral [mm³] of the squared depth over the width of a groove."""
    rest, wide = radius - depth, groove_width(radius, depth)
    under_arc = groove_area(radius, depth) + rest * wide  # of the arc above its tool's middle
    return radius**2 * wide - wide**3 / 12 + rest**2 * wide - 2 * rest * under_arc


def depths(radius: float, depth: float) -> list[tuple[float, float]]:
    """Return (depth [mm], weight [mm]) over the width of a groove, to sum what goes by its depth."""
    rest = radius - depth
    last = acos(max(rest, 0.0) / radius)
    step = last / _PARTS
    found = []
    for index in range(_PARTS + 1):
        turn = index * step
        simpson = 1 if index in (0, _PARTS) else 4 if index % 2 else 2
        found.append((radius * cos(turn) - rest, 2 * simpson * step / 3 * radius * cos(turn)))
    return found


class FullerGroove(Formula):
    """How much longer a bar gets by grooves: the metal they drive aside, over the section of the bar.

        A = R² arccos((R - c)/R) - (R - c) √(2Rc - c²),  g = 2 √(2Rc - c²),  gain = (1 - β) n A / t

    Deeper than its radius the groove has straight walls: A = πR²/2 + 2R (c - R), g = 2R.

    Args:
        radius: R of the fuller [mm]
        depth: c of the groove [mm]
        thickness: t of the bar through the groove [mm]
        sides: n, one, or two opposite each other
        spread: β, the share of the metal that goes sideways

    Returns:
        What the bar gains in length [mm]; the area and the width of a groove, and the thickness left.

    Valid for square and flat bar grooved straight across.

    Raises:
        ValueError: a size is zero or less, the spread is not within 0 to 1, or nothing is left.

    >>> result = FullerGroove(radius=6, depth=3, thickness=12).answer()
    >>> round(result.value, 1), round(result["width of a groove"].value, 1), result["left"].value
    (3.7, 10.4, 6)
    """

    id = "fuller_groove"
    title = "Fullered groove: how much longer the bar gets"
    source = Cite("DERIVED", note="segment of a circle; warnings from memory")
    group = "longer"
    words = ("fuller", "groove", "neck down")
    result = "Longer by"
    operations = ("fuller",)
    any_unit = True

    radius: float = given("Radius of the fuller", "mm", above=0, example=("6", "1/4"))
    depth: float = given("Depth", "mm", above=0, example=("3", "1/8"))
    thickness: float = given("Thickness of the bar", "mm", above=0, example=("12", "1/2"))
    sides: float = given("Grooves", "", at_least=1, at_most=2, default=2, choices=_SIDES)
    spread: float = given("Share that goes sideways", SHARE, at_least=0, at_most=1, default=0.0)

    def answer(self) -> Answer:
        """Return how much longer [mm] the bar gets."""
        left = self.thickness - self.sides * self.depth
        if left <= 0:
            raise GivenError(
                f"Grooves {self.depth:g} mm deep leave nothing of {self.thickness:g} mm.", "depth"
            )
        area = groove_area(self.radius, self.depth)
        gain = (1 - self.spread) * self.sides * area / self.thickness
        warnings = []
        if self.radius < max(LEAST_RADIUS, LEAST_OF_THICKNESS * self.thickness):
            warnings.append(say("The fuller is too sharp for the bar: the groove starts a crack."))
        if left < LEAST_LEFT * self.thickness:
            warnings.append(say("Less than 40 % of the thickness is left: it burns and breaks there."))
        further = (
            Answer(area, "mm²", "segment of a circle", "area of a groove"),
            Answer(groove_width(self.radius, self.depth), "mm", "2 √(2Rc - c²)", "width of a groove"),
            Answer(left, "mm", f"{self.thickness:g} - {self.sides:g} × {self.depth:g}", "left"),
        )
        working = f"{1 - self.spread:g} × {self.sides:g} × {area:.4g} / {self.thickness:g}"
        return Answer(gain, "mm", working, further=further, warnings=tuple(warnings))

    def figure(self) -> Figure:
        """Return the groove."""
        return groove(self.radius, self.depth, self.thickness, int(self.sides))
