"""Patterns laid on sheets of paper: small ones together, large ones over several that overlap. In mm."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from shapely import MultiLineString, box, prepare

from .paper import OVERLAP, Paper
from .pattern import Item, Line, Pattern, Spot

GAP = 7.0  # mm between two patterns on one sheet
_MANY = 400  # tiles of one pattern: more are not looked at one by one, since they are refused anyway


@dataclass(frozen=True, slots=True)
class Placed:
    """A pattern on a sheet: where the upper left corner of its box lies on the paper."""

    pattern: Pattern
    left: float
    top: float


@dataclass(frozen=True, slots=True)
class Seam:
    """A side of a tile where another sheet joins it; on the left and at the top this sheet is cut."""

    side: str  # left, right, top or foot
    other: str


@dataclass
class Sheet:
    """One sheet of paper; `label` and `seams` where it is a tile of one large pattern."""

    placed: list[Placed] = field(default_factory=list)
    label: str = ""
    seams: tuple[Seam, ...] = ()
    number: int = 0

    @property
    def title(self) -> str:
        """What is on it."""
        titles = list(dict.fromkeys(one.pattern.title for one in self.placed))
        return titles[0] if len(titles) == 1 else f"{titles[0]}, and {len(titles) - 1} more"


def laid(patterns: Sequence[Pattern], paper: Paper) -> list[Sheet]:
    """Return the sheets that these patterns take on this paper."""
    wide, high = paper.room
    large = [one for one in patterns if one.width > wide or one.height > high]
    small = [one for one in patterns if one not in large]
    together = min((_packed(order, paper) for order in (small, _tallest_first(small))), key=len)
    place = {id(one): number for number, one in enumerate(small)}
    together.sort(key=lambda sheet: min(place[id(one.pattern)] for one in sheet.placed))
    sheets = [sheet for one in large for sheet in _tiled(one, paper)] + together
    for number, sheet in enumerate(sheets, start=1):
        sheet.number = number
    return sheets


def _tallest_first(patterns: Sequence[Pattern]) -> list[Pattern]:
    return sorted(patterns, key=lambda one: -one.height)


# -- small ones together -----------------------------------------------------------------------------


@dataclass
class _Shelf:
    sheet: Sheet
    top: float
    high: float
    used: float = 0.0


def _packed(patterns: Sequence[Pattern], paper: Paper) -> list[Sheet]:
    """Return sheets with the patterns side by side on shelves, each on the first that has room for it."""
    left, top, _, _ = paper.window
    wide, high = paper.room
    shelves: list[_Shelf] = []
    filled: dict[int, float] = {}
    sheets: list[Sheet] = []
    for one in patterns:
        shelf = next((it for it in shelves if one.height <= it.high and it.used + one.width <= wide), None)
        if shelf is None:
            sheet = next((it for it in sheets if filled[id(it)] + one.height <= high), None)
            if sheet is None:
                sheet = Sheet()
                sheets.append(sheet)
                filled[id(sheet)] = 0.0
            shelf = _Shelf(sheet, top + filled[id(sheet)], one.height)
            filled[id(sheet)] += one.height + GAP
            shelves.append(shelf)
        shelf.sheet.placed.append(Placed(one, left + shelf.used, shelf.top))
        shelf.used += one.width + GAP
    return sheets


# -- a large one over several sheets -----------------------------------------------------------------


def _tiled(pattern: Pattern, paper: Paper) -> Iterator[Sheet]:
    """Yield the sheets of a pattern too large for one, from its upper left on; empty ones are left out."""
    wide, high = paper.room
    columns, lines = _count(pattern.width, wide), _count(pattern.height, high)
    left, top, _, _ = paper.window
    there = {
        (line, column)
        for line in range(lines)
        for column in range(columns)
        if columns * lines > _MANY or _holds(pattern, column, line, paper)
    }
    for line, column in sorted(there):
        at = left - column * (wide - OVERLAP), top - line * (high - OVERLAP)
        sides = {
            "left": (line, column - 1),
            "right": (line, column + 1),
            "top": (line - 1, column),
            "foot": (line + 1, column),
        }
        seams = tuple(Seam(side, label(*tile)) for side, tile in sides.items() if tile in there)
        yield Sheet([Placed(pattern, *at)], label(line, column), seams)


def _count(size: float, room: float) -> int:
    return 1 if size <= room else math.ceil((size - OVERLAP) / (room - OVERLAP))


def label(line: int, column: int) -> str:
    """Return what a tile is called: "A1", "A2" along the first line, "B1" under it."""
    letters = ""
    line += 1
    while line:
        line, rest = divmod(line - 1, 26)
        letters = chr(65 + rest) + letters
    return f"{letters}{column + 1}"


def _holds(pattern: Pattern, column: int, line: int, paper: Paper) -> bool:
    """Whether anything of a pattern lies on one of its tiles, what another tile shows as well left out."""
    wide, high = paper.room
    low, _, _, top = pattern.box
    x, y = low + column * (wide - OVERLAP), top - line * (high - OVERLAP)
    keep = OVERLAP / 2
    tile = box(x + (keep if column else 0), y - high + keep, x + wide - keep, y - (keep if line else 0))
    prepare(tile)
    lines = [_path(one) for one in pattern.items if len(one.spots) > 1]
    return bool(tile.intersects(MultiLineString(lines)))


def _path(item: Item) -> tuple[Spot, ...]:
    """Return the spots of an item, back to the first where it is closed."""
    is_closed = isinstance(item, Line) and item.closed
    return (*item.spots, item.spots[0]) if is_closed else item.spots
