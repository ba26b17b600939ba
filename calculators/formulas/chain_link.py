"""Length of bar for a link of chain."""

from __future__ import annotations

from math import pi

from calculators.figure import Figure
from calculators.figures.rings import link
from calculators.formula import Answer, Cite, Formula, GivenError, given


class ChainLink(Formula):
    """Length of bar for a link with round ends and straight sides.

        L = π (w + d) + 2 (l - w) + allowance

    Args:
        length: l, inside length of the link [mm]
        width: w, inside width [mm]
        thickness: d, of the bar [mm]
        allowance: for the weld [mm]

    Returns:
        Length of bar [mm], and what a metre of such chain takes of it.

    Valid for even bar with half-round ends; exact by volume. Ilgen cuts 6 in for a link of 3/8 in round, 2 in
    by 3/4 in inside. Chain that bears a load is not forged by eye and is not what this is for.

    Raises:
        ValueError: a size is zero or less, or the link is wider than long.

    >>> round(ChainLink(length=50.8, width=19.05, thickness=9.525).answer().value, 1)
    153.3
    """

    id = "chain_link"
    title = "Chain link: the bar it takes"
    source = Cite("ILGEN", "article 80", "the middle of the bar, on half rounds and straight sides")
    group = "curved"
    words = ("chain", "link", "oval ring")
    result = "Length of bar"
    operations = ("bend", "weld_ring")
    any_unit = True

    length: float = given("Inside length", "mm", above=0, example=("50", "2"))
    width: float = given("Inside width", "mm", above=0, example=("20", "3/4"))
    thickness: float = given("Thickness", "mm", above=0, example=("10", "3/8"))
    allowance: float = given("Weld allowance", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        if self.length < self.width:
            raise GivenError(
                f"A link is at least as long as wide inside: {self.length:g} mm is less than"
                f" {self.width:g} mm.",
                "length",
            )
        bar = pi * (self.width + self.thickness) + 2 * (self.length - self.width) + self.allowance
        working = f"π × ({self.width:g} + {self.thickness:g}) + 2 × ({self.length:g} - {self.width:g})"
        if self.allowance:
            working += f" + {self.allowance:g}"
        times = Answer(bar / self.length, "", f"{bar:.4g} / {self.length:g}", "bar to a length of chain")
        return Answer(bar, "mm", working, further=(times,))

    def figure(self) -> Figure:
        """Return the link."""
        return link(self.length, self.width, self.thickness)
