"""Length of a bar after upsetting, and the section that a shortening gives."""

from __future__ import annotations

from calculators.figure import Figure
from calculators.figures.bars import worked_bar
from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.wording import Sentence, say

# Machine heading allows three thicknesses of free bar before it bends; by hand it marks where to straighten.
FREE_LENGTH = 3


def area_after_shortening(area: float, length: float, shortening: float) -> float:
    """Return the section [mm²] of a length [mm] that was upset by a shortening [mm]."""
    return area * length / (length - shortening)


class UpsetLength(Formula):
    """Length of a heated part after upsetting it to a larger section.

        L₁ = L₀ · A₀ / A₁

    Args:
        length: length worked, the hot part [mm]
        area_before: section before [mm²]
        area_after: section after [mm²]
        thickness: thickness before [mm], for the warning; 0 when not known

    Returns:
        Length after [mm], and how much shorter it gets.

    Valid for even sections. More than three thicknesses of hot bar bend instead of thickening (a rule for
    machine heading; common practice by hand, no source).

    Raises:
        ValueError: an input is zero or less, or the section after is the smaller.

    >>> UpsetLength(length=40, area_before=256, area_after=400).answer().value
    25.6
    """

    id = "upset_length"
    title = "Upsetting: how short it gets"
    source = Cite("DERIVED")
    group = "thicker"
    words = ("upset", "jump up", "stave up", "thicken")
    result = "Length after"
    operations = ("upset",)
    any_unit = True

    length: float = given("Length worked", "mm", above=0, example=("40", "1 1/2"))
    area_before: float = given("Section before", "mm²", above=0, of="area", example=("16 sq", "5/8 sq"))
    area_after: float = given("Section after", "mm²", above=0, of="area", example=("20 sq", "3/4 sq"))
    thickness: float = given("Thickness before", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] after upsetting."""
        if self.area_after < self.area_before:
            raise GivenError(
                f"Upsetting makes the section larger: {self.area_after:g} mm² is less than"
                f" {self.area_before:g} mm². To make it smaller, draw out.",
                "area_after",
            )
        after = self.length * self.area_before / self.area_after
        warnings: tuple[Sentence, ...] = ()
        if self.thickness and self.length > FREE_LENGTH * self.thickness:
            warnings = (
                say(
                    "{hot:length} of hot bar is more than three times its thickness, {thickness:size}:"
                    " expect to straighten it between blows.",
                    hot=self.length,
                    thickness=self.thickness,
                ),
            )
        shorter = Answer(self.length - after, "mm", f"{self.length:g} - {after:g}", "shorter by")
        working = f"{self.length:g} × {self.area_before:g} / {self.area_after:g}"
        return Answer(after, "mm", working, further=(shorter,), warnings=warnings)

    def figure(self) -> Figure:
        """Return the run before and after."""
        return worked_bar(self.area_before, self.length, self.area_after, self.answer().value)
