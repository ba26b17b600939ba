"""A flat blank sunk to a shallow bowl: its rim and the radius of its hollow."""

from __future__ import annotations

from math import sqrt

from calculators.figure import Figure
from calculators.figures.holes import dish
from calculators.formula import SHARE, Answer, Cite, Formula, GivenError, given
from calculators.wording import say

DEEPEST_SUNK = 1 / 4  # of the blank's diameter, beyond which it is raised (from memory)


def grown(blank: float, thinning: float) -> float:
    """Return the diameter [mm] of a disc as large as the bowl is along its metal, thinned by a share."""
    return blank / sqrt(1 - thinning)


def rim_diameter(blank: float, depth: float) -> float:
    """Return the diameter [mm] of the rim of a bowl of the same area as a disc [mm].

    A bowl of rim radius a and depth h has the area π(a² + h²). Raises ValueError when it is too deep.
    """
    square = (blank / 2) ** 2 - depth**2
    if square <= 0:
        raise ValueError(f"A bowl {depth:g} mm deep takes a blank of more than {2 * depth:g} mm.")
    return 2 * sqrt(square)


def hollow_radius(blank: float, depth: float) -> float:
    """Return the radius [mm] of the hollow, a part of a ball."""
    return blank**2 / (8 * depth)


class DishedBlank(Formula):
    """Rim of a bowl sunk from a flat disc whose area stays, or grows as the metal is thinned.

        D = D₀ / √(1 - τ),  rim = 2 √((D/2)² - h²),  radius = D² / (8h)

    Args:
        blank: D₀, diameter of the flat blank [mm]
        depth: h, depth of the hollow [mm]
        thinning: τ, share of the thickness that goes

    Returns:
        Diameter of the rim [mm], and the radius of the hollow.

    Valid for a hollow that is part of a ball and metal that is thin beside it.

    Raises:
        ValueError: a size is zero or less, the thinning is not below 1, or the hollow is deeper than half the
            blank.

    >>> result = DishedBlank(blank=90, depth=12).answer()
    >>> round(result.value, 1), round(result["radius of the hollow"].value, 1)
    (86.7, 84.4)
    """

    id = "dished_blank"
    title = "Dished blank: rim and hollow"
    source = Cite("DERIVED", note="area of a part of a ball; the limit of sinking from memory")
    group = "holes"
    words = ("bowl", "dome", "sinking", "spoon")
    result = "Diameter at the rim"
    operations = ("dish",)
    any_unit = True

    blank: float = given("Diameter of the blank", "mm", above=0, example=("90", "3 1/2"))
    depth: float = given("Depth", "mm", above=0, example=("12", "1/2"))
    thinning: float = given("Thinned by", SHARE, at_least=0, below=1, default=0.0)

    def answer(self) -> Answer:
        """Return the diameter [mm] of the rim."""
        blank = grown(self.blank, self.thinning)
        try:
            rim = rim_diameter(blank, self.depth)
        except ValueError as fault:
            raise GivenError(str(fault), "depth") from fault
        warnings = []
        if self.depth > DEEPEST_SUNK * self.blank:
            warnings.append(say("Deeper than a quarter of the blank: raise it, or anneal between courses."))
        radius = Answer(
            hollow_radius(blank, self.depth),
            "mm",
            f"{blank:.4g}² / (8 × {self.depth:g})",
            "radius of the hollow",
        )
        working = f"2 × √(({blank:.4g}/2)² - {self.depth:g}²)"
        return Answer(rim, "mm", working, further=(radius,), warnings=tuple(warnings))

    def figure(self) -> Figure:
        """Return the dish."""
        return dish(self.blank, self.depth, self.answer().value)
