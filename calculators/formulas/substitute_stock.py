"""Length of another bar that holds the same metal."""

from __future__ import annotations

from calculators.figure import Figure
from calculators.figures.bars import two_bars
from calculators.formula import Answer, Cite, Formula, check_bar, given
from calculators.sections import Section


class SubstituteStock(Formula):
    """Length of one bar that holds as much metal as a length of another.

        L₂ = L₁ · A₁ / A₂

    Args:
        section: of the bar that is asked for
        length: of it [mm]
        instead: section of the bar at hand

    Returns:
        Length of the bar at hand [mm], and how many times the other that is.

    Valid for bars of one section each; exact by volume. Rolled bar may be 7 % off its nominal area: weigh it
    where it matters.

    Raises:
        ValueError: a length is zero or less, or a section holds nothing.

    >>> square, bar = Section.square(9.525), Section.round(12.7)
    >>> round(SubstituteStock(section=square, length=254, instead=bar).answer().value, 1)
    181.9
    """

    id = "substitute_stock"
    title = "Equal volume: the other bar"
    source = Cite("DERIVED")
    group = "stock"
    words = ("substitute stock", "equal volume", "other section", "square for round", "stock at hand")
    result = "Length of the bar at hand"
    operations = ("change_section",)
    any_unit = True

    section: Section = given("Bar asked for", "section", example=("10 sq", "3/8 sq"))
    length: float = given("Its length", "mm", above=0, example=("250", "10"))
    instead: Section = given("Bar at hand", "section", example=("round 12", "round 1/2"))

    def answer(self) -> Answer:
        """Return the length [mm] of the bar at hand."""
        for name, section in (("section", self.section), ("instead", self.instead)):
            check_bar(name, section)
        times = self.section.area / self.instead.area
        working = f"{self.length:g} × {self.section.area:.6g} / {self.instead.area:.6g}"
        ratio = Answer(times, "", f"{self.section.area:.6g} / {self.instead.area:.6g}", "times as long")
        return Answer(self.length * times, "mm", working, further=(ratio,))

    def figure(self) -> Figure:
        """Return both bars."""
        return two_bars(self.section, self.length, self.instead, self.answer().value)
