"""Length of bar for an eye turned at the end of a bar."""

from __future__ import annotations

from calculators.figure import Figure
from calculators.figures.rings import eye
from calculators.formula import Answer, Cite, Formula, given
from calculators.formulas.ring_blank import blank_length

_CLOSED = {"turned": ("turned shut", 0.0), "welded": ("welded: one thickness for the scarf", 1.0)}


class EyeBlank(Formula):
    """Length of bar to mark off for an eye, measured on the middle of the bar.

        L = π (D + t) + a · t

    Args:
        inside_diameter: D, what goes through the eye [mm]
        thickness: t, of the bar in the plane of the eye [mm]
        closed: a, added for the scarf, in thicknesses of the bar

    Returns:
        Length of bar [mm]; and how far from the end to bend the bar over, where the eye is turned between two
        bends.

    Valid for even bar; exact by volume. Ilgen adds about one bar diameter for a welded eye, and marks the
    length of the ring less one diameter between two bends. The rule "hole × 3 1/7" leaves the thickness out
    and comes short.

    Raises:
        ValueError: a size is zero or less.

    >>> round(EyeBlank(inside_diameter=12.7, thickness=6.35).answer().value, 1)
    59.8
    """

    id = "eye_blank"
    title = "Eye: the bar it takes"
    source = Cite("ILGEN", "article 109")
    group = "curved"
    words = ("eye", "loop", "eye bolt", "hook eye", "turned eye")
    result = "Length of bar"
    operations = ("loop",)
    any_unit = True

    inside_diameter: float = given("Inside diameter", "mm", above=0, example=("12", "1/2"))
    thickness: float = given("Thickness", "mm", above=0, example=("6", "1/4"))
    closed: float = given("Closed", "", at_least=0, at_most=5, default=0.0, choices=_CLOSED)

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        extra = self.closed * self.thickness
        length = blank_length(self.inside_diameter, self.thickness, extra)
        ring = blank_length(self.inside_diameter, self.thickness)
        working = f"π × ({self.inside_diameter:g} + {self.thickness:g})"
        bent = Answer(
            ring - self.thickness, "mm", f"{working} - {self.thickness:g}", "mark between two bends"
        )
        if extra:
            working += f" + {self.closed:g} × {self.thickness:g}"
        return Answer(length, "mm", working, further=(bent,))

    def figure(self) -> Figure:
        """Return the eye at the end of its bar."""
        return eye(self.inside_diameter, self.thickness)
