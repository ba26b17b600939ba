"""Length of a bar drawn out to a smaller section."""

from __future__ import annotations

from calculators.figure import Figure
from calculators.figures.bars import worked_bar
from calculators.formula import SHARE, Answer, Cite, Formula, GivenError, given


class DrawOutLength(Formula):
    """Length of a bar drawn out to a smaller section, metal being neither made nor lost but for scale.

        L₁ = L₀ · A₀ · (1 - loss) / A₁

    Args:
        length: length worked [mm]
        area_before: section before [mm²]
        area_after: section after [mm²]
        loss: share of the metal lost to scale, 0 to 1

    Returns:
        Length after [mm].

    Valid for even sections before and after.

    Raises:
        ValueError: an input is zero or less, the loss is not below 1, or the section after is the larger.

    >>> round(DrawOutLength(length=60, area_before=400, area_after=144).answer().value, 1)
    166.7
    """

    id = "draw_out_length"
    title = "Drawing out: how long it gets"
    source = Cite("DERIVED")
    group = "longer"
    words = ("draw down", "drawing", "stretch", "lengthen")
    result = "Length after"
    operations = ("draw_out", "set_down")
    any_unit = True

    length: float = given("Length worked", "mm", above=0, example=("60", "2 1/2"))
    area_before: float = given("Section before", "mm²", above=0, of="area", example=("20 sq", "3/4 sq"))
    area_after: float = given("Section after", "mm²", above=0, of="area", example=("12 sq", "1/2 sq"))
    loss: float = given("Lost to scale", SHARE, at_least=0, below=1, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] after drawing out."""
        if self.area_after > self.area_before:
            raise GivenError(
                f"Drawing out makes the section smaller: {self.area_after:g} mm² is more than"
                f" {self.area_before:g} mm². To make it larger, upset.",
                "area_after",
            )
        after = self.length * self.area_before * (1 - self.loss) / self.area_after
        kept = f" × {1 - self.loss:g}" if self.loss else ""
        return Answer(after, "mm", f"{self.length:g} × {self.area_before:g}{kept} / {self.area_after:g}")

    def figure(self) -> Figure:
        """Return the run before and after."""
        return worked_bar(self.area_before, self.length, self.area_after, self.answer().value)
