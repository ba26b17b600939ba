"""Length of bar for a bolt head, and the trade's proportions of one."""

from __future__ import annotations

from math import sqrt

from calculators.figure import Figure
from calculators.figures.heads import head
from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.sections import Section
from calculators.wording import Sentence, say

_EIGHTH = 25.4 / 8  # mm
FREE_LENGTH = 3  # thicknesses of free bar that can be headed in one go (machine heading)


def rough_across_flats(shank: float) -> float:
    """Return the size across flats [mm] of a rough square or hexagon head on a shank [mm]."""
    return 1.5 * shank + _EIGHTH


def rough_height(across_flats: float) -> float:
    """Return the height [mm] of a rough head of a size across flats [mm]."""
    return across_flats / 2


def dome_top(diameter: float, height: float) -> float:
    """Return the upper diameter [mm] of the cone frustum that holds as much metal as a dome of these sizes.

    The dome is a spherical cap at most half a ball high [mm], the frustum as wide below and as high.
    """
    return (sqrt(3 * diameter**2 + 8 * height**2) - diameter) / 2


class HeadStock(Formula):
    """Length of bar to upset into a bolt head.

        l = A_head · h / A_shank

    Args:
        head: section of the head
        height: height of the head [mm]
        shank: section of the shank

    Returns:
        Length of bar [mm], and how many thicknesses of the shank that is.

    Valid for a head of one section; exact by volume. The trade's rough square or hexagon head is 1½ times the
    shank and 3.2 mm across flats, and half of that high; another school makes it as high as the shank is
    thick.

    Raises:
        ValueError: the height is zero or less, or the head is no larger than its shank.

    >>> result = HeadStock(head=Section.square(20), height=10, shank=Section.round(12)).answer()
    >>> round(result.value, 1), round(result["thicknesses"].value, 2)
    (35.4, 2.95)
    """

    id = "head_stock"
    title = "Bolt head: the bar it takes"
    source = Cite(
        "SHOP-PRACTICE", "volume 1, Bolts", "constant volume; proportions also Ilgen, tables, item 4"
    )
    group = "thicker"
    words = ("bolt head", "heading", "upset head", "rough head")
    result = "Length of bar"
    operations = ("head",)
    any_unit = True

    head: Section = given("Head", "section", example=("20 sq", "1 sq"))
    height: float = given("Height", "mm", above=0, example=("10", "3/8"))
    shank: Section = given("Shank", "section", example=("round 12", "round 1/2"))

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        if self.shank.area <= 0 or self.head.area <= self.shank.area:
            raise GivenError(f"A head of {self.head} is no larger than its shank, {self.shank}.", "head")
        length = self.head.area * self.height / self.shank.area
        thin = min(self.shank.thickness, self.shank.width)
        warnings: tuple[Sentence, ...] = ()
        if length > FREE_LENGTH * thin:
            warnings = (
                say(
                    "{length:length} of bar is more than three times its thickness: gather it in two goes.",
                    length=length,
                ),
            )
        times = Answer(length / thin, "", f"{length:.4g} / {thin:g}", "thicknesses")
        working = f"{self.head.area:.6g} × {self.height:g} / {self.shank.area:.6g}"
        return Answer(length, "mm", working, further=(times,), warnings=warnings)

    def figure(self) -> Figure:
        """Return the head and the bar it takes."""
        return head(self.head, self.height, self.shank, self.answer().value)
