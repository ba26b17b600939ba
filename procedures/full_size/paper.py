"""The papers patterns are printed on, and what of each a pattern may fill. All in mm."""

from __future__ import annotations

from dataclasses import dataclass

MOST_SHEETS = 60
OVERLAP = 12.0  # mm that two sheets to be joined have in common
EDGE = 10.0  # mm at each side that a printer may not reach
HEAD = 9.0  # over the pattern: what it is
FOOT = 23.0  # under it: the ruler and how to print
SIDE = 8.0  # at the left: the upright ruler
LAYINGS = {
    "stacked": "Stacked, broken at marks",
    "joined": "Whole, sheets taped together",
}
_SIDES = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4), "Tabloid": (279.4, 431.8)}
PAPERS = {"A4": "A4", "A3": "A3", "Letter": "Letter", "Tabloid": "Tabloid (11 × 17 in)"}


class FullSizeError(ValueError):
    """What cannot be printed at full size; the message says what can."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, upright or on its long side."""

    size: str = "A4"
    is_wide: bool = False

    @property
    def width(self) -> float:
        """How wide it is."""
        return _SIDES[self.size][1 if self.is_wide else 0]

    @property
    def height(self) -> float:
        """How high it is."""
        return _SIDES[self.size][0 if self.is_wide else 1]

    @property
    def window(self) -> tuple[float, float, float, float]:
        """Where the pattern goes: left, top, right and foot from the sheet's upper left corner."""
        return EDGE + SIDE, EDGE + HEAD, self.width - EDGE, self.height - EDGE - FOOT

    @property
    def room(self) -> tuple[float, float]:
        """How wide and how high a pattern may be to go on one sheet."""
        left, top, right, foot = self.window
        return right - left, foot - top

    @property
    def title(self) -> str:
        """What it is called."""
        return f"{self.size} {'landscape' if self.is_wide else 'portrait'}"


def paper_of(size: str) -> str:
    """Return the paper asked for, in any case of letters; "" asks for A4. Raises FullSizeError."""
    return _choice("paper", size, tuple(PAPERS))


def laying_of(laying: str) -> str:
    """Return the way to lay strips; "" asks for them stacked. Raises FullSizeError."""
    return _choice("way to lay strips", laying, tuple(LAYINGS))


def _choice(what: str, typed: str, known: tuple[str, ...]) -> str:
    if not typed:
        return known[0]
    found = next((one for one in known if one.lower() == typed.strip().lower()), None)
    if found is None:
        raise FullSizeError(f"There is no {what} {typed[:40]!r} here; choose {', '.join(known)}.")
    return found
