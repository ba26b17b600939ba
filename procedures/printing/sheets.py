"""The papers a card is printed on."""

from __future__ import annotations

from dataclasses import dataclass

from procedures.presenting import Room

SIZES = ("A4", "A5", "Letter")
ORIENTATIONS = ("landscape", "portrait")
_SIDES = {"A4": (210.0, 297.0), "A5": (148.0, 210.0), "Letter": (215.9, 279.4)}  # mm
_MARGINS = 24.0  # mm, both sides together, as the card's style sheet has them
_DRAWING_SHARE, _LARGE_SHARE = 0.46, 0.40  # of the width inside the margins, as the style sheet has it
_LEAST_DRAWING = 85.0  # mm: narrower, its lettering does not fit
_TALLEST = {"A4": 75.0, "A5": 50.0, "Letter": 75.0}  # mm of metal in one view


class SheetError(ValueError):
    """A paper that is not on the list; the message says what is."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One of SIZES, one of ORIENTATIONS."""

    size: str = SIZES[0]
    orientation: str = ORIENTATIONS[0]

    @property
    def room(self) -> Room:
        """The room for a step's drawing: its lettering is made for that width, and the page holds it."""
        short, long = _SIDES[self.size]
        inside = (long if self.is_wide else short) - _MARGINS
        share = 1 if self.is_narrow else _LARGE_SHARE if self.is_large else _DRAWING_SHARE
        return Room("print", max(share * inside, _LEAST_DRAWING), _TALLEST[self.size])

    @property
    def is_wide(self) -> bool:
        """Whether the paper lies on its long side: the words have more room than the drawing."""
        return self.orientation == "landscape"

    @property
    def is_large(self) -> bool:
        """Whether its type is large: two steps a page, to be read from the wall."""
        return self.size != "A5" and self.is_wide

    @property
    def is_narrow(self) -> bool:
        """Whether drawings stand under the words, not beside them."""
        return self.size == "A5" and not self.is_wide

    @property
    def page_css(self) -> str:
        """The rule that gives the pages this size."""
        return f"@page {{ size: {self.size} {self.orientation} }}"

    @property
    def classes(self) -> str:
        """The classes of the card for this paper."""
        small = ["card--a5"] if self.size == "A5" else []
        large = ["card--large"] if self.is_large else []
        narrow = ["card--narrow"] if self.is_narrow else []
        wide = ["card--wide"] if self.is_wide else []
        return " ".join(["card", *small, *large, *narrow, *wide])

    @property
    def title(self) -> str:
        """What it is called: "A4 landscape"."""
        return f"{self.size} {self.orientation}"

    @property
    def query(self) -> str:
        """The query that asks for it."""
        return f"size={self.size}&orientation={self.orientation}"


SHEETS = tuple(Sheet(size, orientation) for size in SIZES for orientation in ORIENTATIONS)


def sheet_of(size: str, orientation: str) -> Sheet:
    """Return the sheet asked for, in any case of letters; "" asks for the usual. Raises SheetError."""
    return Sheet(_choice("paper", size, SIZES), _choice("way to lay it", orientation, ORIENTATIONS))


def _choice(what: str, typed: str, known: tuple[str, ...]) -> str:
    if not typed:
        return known[0]
    found = next((one for one in known if one.lower() == typed.strip().lower()), None)
    if found is None:
        raise SheetError(f"There is no {what} {typed[:40]!r} here; choose {', '.join(known)}.")
    return found
