"""The papers a card is printed on."""

from __future__ import annotations

from dataclasses import dataclass

SIZES = ("A4", "A5", "Letter")
ORIENTATIONS = ("landscape", "portrait")
_SIDES = {"A4": (210.0, 297.0), "A5": (148.0, 210.0), "Letter": (215.9, 279.4)}  # mm
_MARGINS = 24.0  # mm, both sides together, as the card's style sheet has them
_DRAWING_SHARE = 0.46  # of the width inside the margins, as the style sheet has it
_LEAST_DRAWING = 85.0  # mm: narrower, its lettering does not fit


class SheetError(ValueError):
    """A paper that is not on the list; the message says what is."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One of SIZES, one of ORIENTATIONS."""

    size: str = SIZES[0]
    orientation: str = ORIENTATIONS[0]

    @property
    def drawing_width(self) -> float:
        """How wide a step's drawing comes out [mm], so that its lettering is made for that width."""
        short, long = _SIDES[self.size]
        inside = (long if self.orientation == "landscape" else short) - _MARGINS
        return inside if self.is_narrow else max(_DRAWING_SHARE * inside, _LEAST_DRAWING)

    @property
    def is_narrow(self) -> bool:
        """Whether drawings stand under the words, not beside them."""
        return self.size == "A5" and self.orientation == "portrait"

    @property
    def page_css(self) -> str:
        """The rule that gives the pages this size."""
        return f"@page {{ size: {self.size} {self.orientation} }}"

    @property
    def classes(self) -> str:
        """The classes of the card for this paper: A5 has smaller type, and stands drawings under words."""
        small = ["card--a5"] if self.size == "A5" else []
        narrow = ["card--narrow"] if self.is_narrow else []
        return " ".join(["card", *small, *narrow])

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
