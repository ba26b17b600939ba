"""Lines that are drawn already: an old outline under them would not be seen, and need not be drawn."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from itertools import pairwise
from math import inf

from .views import Line, Spot

_Key = tuple[float, float, float]
_NEAR = 0.02  # mm: an end that is covered but for this much is covered


class Covered:
    """The lines of a view: straight steps by the endless line they lie on, other lines whole."""

    def __init__(self, lines: Iterable[Line]) -> None:
        self._whole: set[tuple[Spot, ...]] = set()
        self._steps: dict[_Key, list[tuple[float, float]]] = {}
        for line in lines:
            self._whole.add(_rounded(line))
            for key, reach in map(_placed, line, line[1:]):
                self._steps.setdefault(key, []).append(reach)
        self._steps = {key: _merged(reaches) for key, reaches in self._steps.items()}

    def covers(self, line: Line) -> bool:
        """Whether every bit of a line lies under those known."""
        if _rounded(line) in self._whole:
            return True
        return all(self._is_under(*_placed(first, last)) for first, last in pairwise(line))

    def _is_under(self, key: _Key, reach: tuple[float, float]) -> bool:
        known = self._steps.get(key)
        if known is None:
            return False
        place = bisect_right(known, (reach[0] + _NEAR, inf)) - 1
        return place >= 0 and known[place][1] >= reach[1] - _NEAR


def _merged(reaches: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return stretches in order, those that meet as one."""
    if len(reaches) == 1:
        return reaches
    merged: list[tuple[float, float]] = []
    for low, high in sorted(reaches):
        if merged and low <= merged[-1][1] + _NEAR:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        else:
            merged.append((low, high))
    return merged


def _placed(first: Spot, last: Spot) -> tuple[_Key, tuple[float, float]]:
    """Return the endless line a step lies on, by its direction and how far off it passes, and its ends."""
    x, y = last[0] - first[0], last[1] - first[1]
    long = (x * x + y * y) ** 0.5
    if long < 1e-9:
        return (0.0, 0.0, 0.0), (0.0, 0.0)
    x, y = x / long, y / long
    if x < -1e-9 or (abs(x) <= 1e-9 and y < 0):
        x, y = -x, -y
    off = round(first[1] * x - first[0] * y, 2)
    one, two = first[0] * x + first[1] * y, last[0] * x + last[1] * y
    return (round(x, 4) + 0.0, round(y, 4) + 0.0, off + 0.0), (min(one, two), max(one, two))


def _rounded(line: Line) -> tuple[Spot, ...]:
    return tuple((round(x, 3), round(y, 3)) for x, y in line)
