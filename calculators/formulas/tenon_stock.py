"""Length of bar for a tenon."""

from __future__ import annotations

from calculators.figure import Figure
from calculators.figures.heads import tenon
from calculators.formula import Answer, Cite, Formula, GivenError, check_bar, given
from calculators.sections import Section
from calculators.wording import Sentence, say

LONGEST = 4.0  # thicknesses of a tenon that stand without bending: from memory
_HEADS = {
    "none": ("none: wedged or pinned", 0.0),
    "snap": ("riveted over: 1.125 thicknesses", 1.125),
    "rose": ("a few blows: 0.667 thicknesses", 0.667),
    "rule": ("by the rule of 1½ thicknesses", 1.5),
}


class TenonStock(Formula):
    """Length of bar that a tenon takes, with what is headed over.

        L_bar = A_tenon · (g + c · t) / A_bar

    Args:
        bar: section of the bar
        tenon: section of the tenon
        grip: g, what it goes through [mm]
        head: c, what stands out to be headed, in thicknesses of the tenon

    Returns:
        Length of bar [mm] from the shoulder, and the length of the tenon.

    Valid for a square shoulder; exact by volume. The head's share is that of a rivet's (BS 275; the rose from
    memory).

    Raises:
        ValueError: a size is zero or less, or the tenon leaves no shoulder.

    >>> answer = TenonStock(bar=Section.square(16), tenon=Section.round(10), grip=8, head=1.125).answer()
    >>> round(answer.value, 1), round(answer["tenon is long"].value, 1)
    (5.9, 19.2)
    """

    id = "tenon_stock"
    title = "Tenon: the bar it takes"
    source = Cite("DERIVED", note="heads as in BS-275")
    group = "joined"
    words = ("tenon", "riveted tenon", "spigot", "mortise")
    result = "Length of bar"
    operations = ("tenon",)
    any_unit = True

    bar: Section = given("Bar", "section", example=("16 sq", "5/8 sq"))
    tenon: Section = given("Tenon", "section", example=("round 10", "round 3/8"))
    grip: float = given("Goes through", "mm", above=0, example=("8", "3/8"))
    head: float = given("Head", "", at_least=0, at_most=4, default=1.125, choices=_HEADS)

    @property
    def length(self) -> float:
        """How long the tenon is [mm]."""
        return self.grip + self.head * self.thin

    @property
    def thin(self) -> float:
        """How thick the tenon is [mm]."""
        return min(self.tenon.thickness, self.tenon.width)

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        check_bar("bar", self.bar)
        check_bar("tenon", self.tenon)
        over = self.tenon.width > self.bar.width or self.tenon.thickness > self.bar.thickness
        if over or self.tenon.area >= self.bar.area:
            raise GivenError(f"A tenon of {self.tenon} leaves no shoulder on {self.bar}.", "tenon")
        long = self.length
        said = f"{self.grip:g} + {self.head:g} × {self.thin:g}"
        working = f"{self.tenon.area:.6g} × ({said}) / {self.bar.area:.6g}"
        warnings: tuple[Sentence, ...] = ()
        if long > LONGEST * self.thin:
            warnings = (
                say(
                    "A tenon {long:length} long, more than four times its thickness, bends as it is headed.",
                    long=long,
                ),
            )
        further = (Answer(long, "mm", said, "tenon is long"),)
        return Answer(
            self.tenon.area * long / self.bar.area, "mm", working, further=further, warnings=warnings
        )

    def figure(self) -> Figure:
        """Return the tenon at the end of its bar."""
        return tenon(self.bar, self.tenon, self.grip, self.length)
