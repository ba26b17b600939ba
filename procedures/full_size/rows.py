"""A long bar in rows: broken at the places that matter, plain metal between distant ones left out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from procedures.engine.pieces.segment import close

STUB = 8.0  # mm of bar shown beyond the last place of a row, where the bar goes on


@dataclass(frozen=True, slots=True)
class Row:
    """The bar from `low` to `high` mm; `left_out` mm of plain bar lie between it and the next row."""

    low: float
    high: float
    left_out: float = 0.0


def rows(length: float, places: Iterable[float], room: float) -> tuple[Row, ...]:
    """Return the rows of a bar of this length, none longer than `room` with its stubs; all in mm.

    A row ends at a place, and the next begins there, so that one is set by the other. Where the next place
    lies too far off for a row, the plain bar on the way is left out, and so is an end alone.
    """
    if length <= room:
        return (Row(0.0, length),)
    named = tuple(places)
    stops = sorted({0.0, *named, length})
    reach = max(room - 2 * STUB, 1.0)
    found: list[Row] = []
    begin = last = stops[0]
    for stop in stops[1:]:
        if stop - begin <= reach:
            last = stop
            continue
        gap = stop - last
        found.append(Row(begin, last, gap if gap > reach else 0.0))
        begin, last = (stop if gap > reach else last), stop
    found.append(Row(begin, last))
    worth = (one for one in found if one.high > one.low or any(close(one.low, at) for at in named))
    return tuple(worth) or (found[0],)
