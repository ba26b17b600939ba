"""Length of bar in a bend."""

from __future__ import annotations

from math import radians

from calculators.figure import Figure
from calculators.figures.bends import bend
from calculators.formula import Answer, Cite, Formula, given
from calculators.wording import say

CENTRE_LINE = 0.5  # of the thickness: constant volume puts it at the centroid
TIGHT = 0.45  # low estimate where the inside radius is below the thickness (judgement)


def arc_length(angle: float, inside_radius: float, thickness: float, k: float = CENTRE_LINE) -> float:
    """Return the length [mm] of bar in a bend [deg] whose neutral line is k thicknesses from the inside."""
    return radians(angle) * (inside_radius + k * thickness)


class BendArc(Formula):
    """Length of bar taken up by a bend, measured on the line that keeps its length.

        arc = θ · (R + K · t),  θ in radians

    Args:
        angle: angle turned through [deg]
        inside_radius: radius of the inside [mm]
        thickness: thickness in the plane of the bend [mm]
        k: place of the neutral line, in thicknesses from the inside; 0.5 is the centre line

    Returns:
        Length in the bend [mm], and the low estimate for a tight bend.

    Valid for hot bar on its centre line (constant volume, by Pappus): under 2 % of the arc. Below an inside
    radius of one thickness K drifts down (0.45 is our judgement; DIN 6935 has less, for cold sheet). For a
    half-round or triangle use the section's centroid_share.

    Raises:
        ValueError: the angle or thickness is zero or less, or the radius is below zero.

    >>> round(BendArc(angle=90, inside_radius=15, thickness=8).answer().value, 1)
    29.8
    """

    id = "bend_arc"
    title = "Bend: the bar it takes"
    source = Cite("DERIVED")
    group = "curved"
    words = ("bend allowance", "curve", "neutral line")
    result = "Bar in the bend"
    operations = ("bend",)
    any_unit = True

    angle: float = given("Angle", "°", above=0, at_most=36_000, example=("90", "90"))
    inside_radius: float = given("Inside radius", "mm", at_least=0, example=("15", "5/8"))
    thickness: float = given("Thickness", "mm", above=0, example=("8", "5/16"))
    k: float = given("Neutral line", "", at_least=0, at_most=1, default=CENTRE_LINE)

    def answer(self) -> Answer:
        """Return the length [mm] of bar in the bend."""
        value = arc_length(self.angle, self.inside_radius, self.thickness, self.k)
        working = f"π × {self.angle:g} / 180 × ({self.inside_radius:g} + {self.k:g} × {self.thickness:g})"
        if self.inside_radius >= self.thickness or self.k <= TIGHT:
            return Answer(value, "mm", working)
        low = arc_length(self.angle, self.inside_radius, self.thickness, TIGHT)
        low_working = f"the same with {TIGHT:g} for {self.k:g}"
        warning = say(
            "The inside radius is less than the thickness: the bend may take as little as {low:length}.",
            low=low,
        )
        return Answer(
            value, "mm", working, further=(Answer(low, "mm", low_working, "low"),), warnings=(warning,)
        )

    def figure(self) -> Figure:
        """Return the bend."""
        return bend(self.angle, self.inside_radius, self.thickness)
