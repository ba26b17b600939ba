"""Lines that are drawn already: an old outline under them would not be seen, and need not be drawn."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

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
        for reaches in self._steps.values():
            reaches.sort()

    def covers(self, line: Line) -> bool:
        """Whether every bit of a line lies under those known."""
        if _rounded(line) in self._whole:
            return True
        return all(self._is_under(*_placed(first, last)) for first, last in pairwise(line))

    def _is_under(self, key: _Key, reach: tuple[float, float]) -> bool:
        low, high = reach
        for first, last in self._steps.get(key, ()):
            if first <= low + _NEAR:
                low = max(low, last)
        return low >= high - _NEAR


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
    ends = sorted((first[0] * x + first[1] * y, last[0] * x + last[1] * y))
    return (round(x, 4) + 0.0, round(y, 4) + 0.0, off + 0.0), (ends[0], ends[1])


def _rounded(line: Line) -> tuple[Spot, ...]:
    return tuple((round(x, 3), round(y, 3)) for x, y in line)
