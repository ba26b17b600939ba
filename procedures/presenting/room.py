"""What a drawing is made for: a screen, a telephone or a place on paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from procedures.drawing.sheet import Size  # slow to import, and most requests draw nothing


@dataclass(frozen=True, slots=True)
class Room:
    """The room there is for a drawing, in pixels or, for print, in mm.

    `width` is its width where that is not the usual one of its size, `tallest` the most that the metal of one
    view may rise, so that a drawing does not outgrow its page. `turned` shows the piece from its other side,
    as a left-handed smith holds it.
    """

    size: Size
    width: float | None = None
    tallest: float | None = None
    turned: bool = False
    capitals: float | None = None


SCREEN = Room("screen")
PHONE = Room("small", width=340)  # held upright, less its margins
