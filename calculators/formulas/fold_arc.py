"""Length of bar in the turn of a fold back."""

from __future__ import annotations

from math import pi

from calculators.figure import Figure
from calculators.figures.bends import fold
from calculators.formula import Answer, Cite, Formula, given


def arc_length(thickness: float, gap: float = 0.0) -> float:
    """Return the length [mm] of bar in a half turn that leaves a gap [mm] between its legs."""
    return pi * (thickness + gap) / 2


class FoldArc(Formula):
    """Length of bar in the turn of a fold back, on the centre line.

        arc = π (t + gap) / 2

    Args:
        thickness: thickness of the bar [mm]
        gap: gap left between the legs [mm]

    Returns:
        Length in the turn [mm].

    Valid for a half turn; exact by volume for a gap of 0 too (half a disc of radius t).

    Raises:
        ValueError: the thickness is zero or less, or the gap below zero.

    >>> round(FoldArc(thickness=5).answer().value, 1)
    7.9
    """

    id = "fold_arc"
    title = "Fold back: the bar in the turn"
    source = Cite("DERIVED")
    group = "curved"
    words = ("fold", "fold over", "double back", "hairpin")
    result = "Bar in the turn"
    operations = ("fold_back",)
    any_unit = True

    thickness: float = given("Thickness", "mm", above=0, example=("5", "3/16"))
    gap: float = given("Gap", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] of bar in the turn."""
        return Answer(
            arc_length(self.thickness, self.gap), "mm", f"π × ({self.thickness:g} + {self.gap:g}) / 2"
        )

    def figure(self) -> Figure:
        """Return the fold."""
        return fold(self.thickness, self.gap)
