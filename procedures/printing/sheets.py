"""The papers a card is printed on, and for which hand."""

from __future__ import annotations

from dataclasses import dataclass

from procedures.presenting import Room

SIZES = ("A4", "A5", "Letter", "Half Letter")
ORIENTATIONS = ("landscape", "portrait")
HANDS = ("right", "left")
_SIDES = {  # mm
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "Letter": (215.9, 279.4),
    "Half Letter": (139.7, 215.9),
}
_SMALL = ("A5", "Half Letter")
_MARGINS = {
    True: 20.0,
    False: 24.0,
}  # mm, both sides together, of small paper and of large
_DRAWING_SHARE, _LARGE_SHARE = 0.46, 0.40  # of the width inside the margins, as the style has it
_LEAST_DRAWING = 85.0  # mm: narrower, its lettering does not fit
_TALLEST, _TALLEST_SMALL, _TALLEST_LARGE = 75.0, 38.0, 56.0  # mm of metal in one view
_CAPITALS = {True: 2.5, False: None}  # mm of lettering in drawings: ISO 3098 has 2.5 for small sheets


class SheetError(ValueError):
    """A choice of paper or print that is not on the list; the message says what is."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One of SIZES, one of ORIENTATIONS, and the hand that holds the hammer."""

    size: str = SIZES[0]
    orientation: str = ORIENTATIONS[0]
    hand: str = HANDS[0]

    @property
    def room(self) -> Room:
        """The room for a step's drawing: its lettering is made for that width, and the page holds it."""
        inside = self.sides[0] - _MARGINS[self.is_small]
        share = 0 if self.is_narrow else _LARGE_SHARE if self.is_large else _DRAWING_SHARE
        width = max(share * inside, _LEAST_DRAWING)
        tallest = _TALLEST_SMALL if self.is_small else _TALLEST_LARGE if self.is_large else _TALLEST
        capitals = _CAPITALS[self.is_small]
        return Room("print", width, tallest, turned=self.is_left, capitals=capitals)

    @property
    def sides(self) -> tuple[float, float]:
        """Its width and height [mm]."""
        short, long = _SIDES[self.size]
        return (long, short) if self.is_wide else (short, long)

    @property
    def is_left(self) -> bool:
        """Whether it is for a smith who holds the hammer in the left hand."""
        return self.hand == "left"

    @property
    def is_small(self) -> bool:
        """Whether it is half of the usual size."""
        return self.size in _SMALL

    @property
    def is_wide(self) -> bool:
        """Whether the paper lies on its long side: the words have more room than the drawing."""
        return self.orientation == "landscape"

    @property
    def is_large(self) -> bool:
        """Whether its type is large: two or three steps a page, to be read from the wall."""
        return self.is_wide and not self.is_small

    @property
    def is_narrow(self) -> bool:
        """Whether a drawing of the least width takes most of the page's."""
        return self.is_small and not self.is_wide

    @property
    def page_css(self) -> str:
        """The rule that gives the pages this size."""
        width, height = self.sides
        return f"@page {{ size: {width}mm {height}mm }}"

    @property
    def classes(self) -> str:
        """The classes of the card for this paper."""
        chosen = {
            "card--small": self.is_small,
            "card--large": self.is_large,
            "card--narrow": self.is_narrow,
            "card--left": self.is_left,
        }
        return " ".join(["card", *(name for name, is_so in chosen.items() if is_so)])

    @property
    def title(self) -> str:
        """What it is called: "A4 landscape"."""
        return f"{self.size} {self.orientation}" + (", left-handed" if self.is_left else "")

    @property
    def query(self) -> str:
        """The query that asks for it."""
        hand = "&hand=left" if self.is_left else ""
        return f"size={self.size.replace(' ', '+')}&orientation={self.orientation}{hand}"


SHEETS = tuple(Sheet(size, orientation) for size in SIZES for orientation in ORIENTATIONS)


def sheet_of(size: str, orientation: str, hand: str = "") -> Sheet:
    """Return the sheet asked for, in any case of letters; "" asks for the usual. Raises SheetError."""
    return Sheet(
        choice("paper", size, SIZES),
        choice("way to lay it", orientation, ORIENTATIONS),
        choice("hand", hand, HANDS),
    )


def choice(what: str, typed: str, known: tuple[str, ...]) -> str:
    """Return which of the known is typed; "" is the first. Raises SheetError."""
    if not typed:
        return known[0]
    found = next((one for one in known if one.lower() == typed.strip().lower()), None)
    if found is None:
        raise SheetError(f"There is no {what} {typed[:40]!r} here; choose {', '.join(known)}.")
    return found
