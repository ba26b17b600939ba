"""The sheets a drawing is made on: their widths, line weights and lettering, for screen, phone and paper.

Line groups and letter heights follow ISO 128 (two widths, 1 : 2) and ISO 3098 (capitals of 3.5 mm); the
worked range has a third width, as heavy again, so that it is told without colour.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

Size = Literal["small", "screen", "print"]
FONT = "Barlow Condensed, Arial Narrow, sans-serif"
CAP = 0.7  # height of the font's capitals, of its size
INK = "#111"
QUIET = "#555"
GHOST = "#8a8a8a"
TONE = "#dcdcdc"


@dataclass(frozen=True)
class Sheet:
    """One size of sheet. All measures are in its own unit: CSS pixels, or millimetres on paper."""

    id: Size
    width: float
    unit: Literal["px", "mm"]
    mm: float  # units in one true millimetre: what scale 1:1 means
    letter: float  # size of the lettering
    outline: float
    worked: float
    thin: float
    margin: float
    tallest: float  # that the metal of one view may be
    legible: float  # how thick the bar should look at least
    finest: float  # how far a drawn curve may lie from the true one

    @property
    def grid(self) -> int:
        """Hundredths of a unit that curves are rounded to: a tenth of a pixel, or 0.01 mm."""
        return 10 if self.unit == "px" else 1

    @property
    def arrow(self) -> float:
        """Length of an arrowhead."""
        return self.letter * 0.5

    @property
    def tier(self) -> float:
        """Distance from one dimension line to the next."""
        return self.letter * 1.5

    def for_bars(self, thick: float) -> Sheet:
        """Return the sheet with line weights that leave bars open that come out so thick on it."""
        share = max(min(thick / (2.2 * self.worked), 1.0), 0.3)
        if share == 1.0:
            return self
        return replace(
            self, worked=max(self.worked * share, self.thin), outline=max(self.outline * share, self.thin)
        )

    @property
    def is_small(self) -> bool:
        """Whether only the most needful is drawn."""
        return self.id == "small"


SHEETS: dict[Size, Sheet] = {
    "small": Sheet(
        "small",
        width=300,
        unit="px",
        mm=96 / 25.4,
        letter=13,
        outline=1.3,
        worked=2.4,
        thin=0.65,
        margin=5,
        tallest=260,
        legible=7,
        finest=0.22,
    ),
    "screen": Sheet(
        "screen",
        width=680,
        unit="px",
        mm=96 / 25.4,
        letter=15,
        outline=1.6,
        worked=3,
        thin=0.8,
        margin=10,
        tallest=480,
        legible=11,
        finest=0.22,
    ),
    "print": Sheet(
        "print",
        width=170,
        unit="mm",
        mm=1,
        letter=3.5 / CAP,
        outline=0.5,
        worked=0.9,
        thin=0.25,
        margin=2,
        tallest=125,
        legible=3,
        finest=0.05,
    ),
}


def sheet(
    size: Size, width: float | None = None, tallest: float | None = None, capitals: float | None = None
) -> Sheet:
    """Return the sheet of a size, made to another width, or for metal at most so tall in one view.

    `capitals` is another height of the capitals, in the unit of the sheet: ISO 3098 has 2.5 mm below 3.5 mm.

    Raises ValueError for an unknown size and for a width too narrow to letter.
    """
    if size not in SHEETS:
        raise ValueError(f"There is no drawing size {size!r}; there are {', '.join(SHEETS)}.")
    found = SHEETS[size]
    if capitals is not None:
        found = replace(found, letter=capitals / CAP)
    if tallest is not None:
        found = replace(found, tallest=float(tallest))
    if width is None:
        return found
    if not width >= 16 * found.letter:
        raise ValueError(
            f"A {size} drawing is at least {16 * found.letter:g} {found.unit} wide; {width!r} is not."
        )
    return replace(found, width=float(width))
