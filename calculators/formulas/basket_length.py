"""Length of a basket: rods welded together at both ends, twisted, and opened to a bulge."""

from __future__ import annotations

from math import cos, hypot, pi, sin, sqrt

from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.roots import rising_root

_PARTS = 200  # of the integral along a rod, by Simpson's rule


def closed_radius(thickness: float, rods: int) -> float:
    """Return how far from the axis [mm] the middle of each rod lies while they touch in a ring."""
    return thickness / (2 * sin(pi / rods))


def rod_length(length: float, turns: float, bulge: float, closed: float, upto: float = 1.0) -> float:
    """Return the length [mm] of a rod that winds round a basket of this length [mm], `upto` a share of it.

    Its middle lies `closed` mm from the axis at both ends and `bulge` mm in the middle, by half a sine.
    """

    def slope(share: float) -> float:
        radius = closed + (bulge - closed) * sin(pi * share)
        outward = (bulge - closed) * pi * cos(pi * share)
        return sqrt(length**2 + (2 * pi * turns * radius) ** 2 + outward**2)

    weights = [1, *(4 if one % 2 else 2 for one in range(1, _PARTS)), 1]
    step = upto / _PARTS
    return step / 3 * sum(weight * slope(step * one) for one, weight in enumerate(weights))


def basket_length(rod: float, turns: float, bulge: float, closed: float) -> float:
    """Return the length [mm] along the axis of a basket of rods this long [mm] between their welds.

    Raises ValueError where the turns and the bulge take the whole rod.
    """
    return rising_root(lambda length: rod_length(length, turns, bulge, closed), rod, 0.0, rod)


class BasketLength(Formula):
    """Length of a basket along its axis, from that of its rods.

        ℓ = ∫ √(L² + (2π N r)² + r'²) du,  r = c + (b - c) sin πu,  u from 0 to 1; solved for L

    Args:
        rod: ℓ, of each rod between the welds [mm]
        turns: N, left in the finished basket
        bulge: b, from the axis to the middle of a rod at the widest place [mm]
        closed: c, the same at the two ends [mm]; 0 for thin rods

    Returns:
        Length along the axis [mm], and what the turns alone would leave: √(ℓ² - (2π N b / √2)²). The shorter
        rule leaves out what the swing outward takes, which is as much as half a turn does.

    Valid for thin rods that keep their length, evenly opened.

    Raises:
        ValueError: a size is zero or less, or the turns and the bulge take the whole rod.

    >>> answer = BasketLength(rod=120, turns=1, bulge=20).answer()
    >>> round(answer.value, 1), round(answer["by the turns alone"].value, 1)
    (69.6, 80.6)
    """

    id = "basket_length"
    title = "Basket: how long it is"
    source = Cite("DERIVED")
    group = "wound"
    words = ("basket twist", "bird cage", "cage")
    result = "Length of the basket"
    operations = ("basket",)
    any_unit = True

    rod: float = given("Rod between the welds", "mm", above=0, example=("120", "4 3/4"))
    turns: float = given("Turns", "", at_least=0, at_most=20, example=("1", "1"))
    bulge: float = given("Bulge, radius to the middle of a rod", "mm", above=0, example=("20", "3/4"))
    closed: float = given("The same at the ends", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm]."""
        try:
            length = basket_length(self.rod, self.turns, self.bulge, self.closed)
        except ValueError:
            raise GivenError(
                f"A rod of {self.rod:g} mm is too short to bulge to {self.bulge:g} mm.", "rod"
            ) from None
        wound = hypot(2 * pi * self.turns * self.bulge / sqrt(2))
        further: tuple[Answer, ...] = ()
        if wound < self.rod:
            plain = sqrt(self.rod**2 - wound**2)
            working = f"√({self.rod:g}² - (2π × {self.turns:g} × {self.bulge:g} / √2)²)"
            further = (Answer(plain, "mm", working, "by the turns alone"),)
        return Answer(length, "mm", f"a rod of {self.rod:g} winds so along {length:.4g}", further=further)
