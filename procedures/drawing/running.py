"""Running dimensions: many distances from one datum on one line, each written at its extension line."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from .canvas import Canvas, Words
from .lettering import width_of

if TYPE_CHECKING:
    from .panel import Panel


def running(canvas: Canvas, panel: Panel, places: Sequence[tuple[float, str]], foot: float) -> float:
    """Draw the line and its distances below `foot`; the first place is the datum. Return where it ends.

    Words stand upright along their extension lines and are moved apart where places lie close.
    """
    size = canvas.sheet.letter
    level = foot + 0.9 * size
    datum, rest = places[0], sorted(places[1:])
    far = max((one for one, _ in places), key=lambda at: abs(at - datum[0]))
    canvas.line("dim", [(datum[0], level), (far, level)])
    canvas.circle("dim", (datum[0], level), 0.2 * size)
    if _fits_level(rest, size):
        return _level(canvas, panel, rest, datum[0], level)
    slots = spread([one for one, _ in rest], 1.0 * size, canvas.sheet.margin + size / 2, _last(canvas))
    most = 0.0
    begin = level + 0.75 * size
    for (at, words), slot in zip(rest, slots, strict=True):
        canvas.arrow((at, level), (-1.0 if at > datum[0] else 1.0, 0.0))
        if slot is None:
            continue
        top = panel.bottom + 0.18 * size
        canvas.line("dim", [(at, top), (at, level + 0.2 * size), (slot, begin - 0.1 * size)])
        wide = width_of(words, size)
        spot = (slot + 0.35 * size, begin + wide + 0.1 * size)
        canvas.write(Words(words, spot, size, "start", -90, "strong"))
        most = max(most, wide)
    return begin + most + 0.1 * size


def _fits_level(places: Sequence[tuple[float, str]], size: float) -> bool:
    """Whether all distances can stand level under their places."""
    halves = [(at, width_of(words, size) / 2) for at, words in places]
    return all(
        second - first > half + other + 0.5 * size for (first, half), (second, other) in pairwise(halves)
    )


def _level(
    canvas: Canvas, panel: Panel, places: Sequence[tuple[float, str]], datum: float, level: float
) -> float:
    size = canvas.sheet.letter
    for at, words in places:
        canvas.arrow((at, level), (-1.0 if at > datum else 1.0, 0.0))
        canvas.line("dim", [(at, panel.bottom + 0.18 * size), (at, level + 0.2 * size)])
        low = canvas.sheet.margin + width_of(words, size) / 2
        centre = min(max(at, low), canvas.sheet.width - low)
        canvas.write(Words(words, (centre, level + 1.1 * size), size, kind="strong"))
    return level + 1.1 * size


def _last(canvas: Canvas) -> float:
    return canvas.sheet.width - canvas.sheet.margin - canvas.sheet.letter / 2


def spread(wanted: Sequence[float], pitch: float, low: float, high: float) -> list[float | None]:
    """Return places in order, at least a pitch apart and as near to the wanted ones as can be.

    Where there is no room for all, every so manyth is dropped: None.
    """
    most = int((high - low) / pitch) + 1
    keep = list(range(len(wanted)))
    if len(keep) > most:
        step = len(keep) / max(most, 1)
        keep = sorted({int(index * step) for index in range(most)})
    groups: list[tuple[float, int]] = []  # (sum of wanted places as if the group began at 0, how many)
    for index in keep:
        at = min(max(wanted[index], low), high)
        groups.append((at, 1))
        while len(groups) > 1 and _begin(groups[-1]) < _begin(groups[-2]) + groups[-2][1] * pitch:
            total, count = groups.pop()
            before, many = groups.pop()
            groups.append((before + total - many * count * pitch, many + count))
    places: list[float | None] = [None] * len(wanted)
    order = iter(keep)
    floor = low
    found: list[tuple[int, float]] = []
    for group in groups:
        begin = max(_begin(group), floor)
        found += [(next(order), begin + step * pitch) for step in range(group[1])]
        floor = begin + group[1] * pitch
    ceiling = high
    for index, at in reversed(found):
        at = min(at, ceiling)
        places[index] = at
        ceiling = at - pitch
    return places


def _begin(group: tuple[float, int]) -> float:
    """Return where a group of words best begins: the mean of where each of them would have it begin."""
    total, count = group
    return total / count
