"""SVG written small: paths in relative steps rounded to a hundredth, and attributes."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from .curves import Cubic, smooth
from .views import Spot

_PLAIN = 6  # steps of a line that is kept to the hundredth


def number(value: float) -> str:
    """Return a coordinate to a hundredth, as short as it goes: "12.5", "-.3", "0"."""
    return _figures(round(value * 100))


@lru_cache(maxsize=1 << 16)  # the steps of drawings are mostly the same few thousand numbers
def _figures(hundredths: int) -> str:
    sign = "-" if hundredths < 0 else ""
    whole, rest = divmod(abs(hundredths), 100)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole or ''}.{f'{rest:02d}'.rstrip('0')}"


def path(spots: Iterable[Spot], *, closed: bool = False, fine: float = 0.0, grid: int = 1) -> str:
    """Return a line through the spots as path data; nothing where it has no length.

    With `fine`, smooth runs become curves that are true to within so much. What is curved, slants or has many
    corners falls on a `grid` of so many hundredths.
    """
    return _path(tuple(spots), closed, fine, grid)


@lru_cache(maxsize=1 << 14)  # the drawings of neighbouring steps share most of their lines
def _path(spots: tuple[Spot, ...], closed: bool, fine: float, grid: int) -> str:
    if len(spots) < 2:
        return ""
    line = [*spots, spots[0]] if closed and len(spots) > 2 else spots
    moves = smooth(line, fine) if fine else line[1:]
    free = len(moves) > _PLAIN or any(map(_is_free, [line[0], *moves], moves))
    pen = _Pen(line[0], grid if free else 1)
    last = len(moves) - 1 if closed and len(spots) > 2 else -1
    for index, move in enumerate(moves):
        if isinstance(move, Cubic):
            pen.curve(move)
        elif index != last:  # the way back to the start is drawn by closing the path
            pen.line(move)
    return pen.data(closed=closed)


def _is_free(start: Spot | Cubic, move: Spot | Cubic) -> bool:
    """Whether a move is curved or slants, so that no other line lies along it."""
    if isinstance(start, Cubic) or isinstance(move, Cubic):
        return True
    return abs(move[0] - start[0]) > 1 and abs(move[1] - start[1]) > 1


class _Pen:
    """Writes path data in relative steps of a hundredth, kept true to the whole so that nothing drifts."""

    def __init__(self, start: Spot, grid: int = 1) -> None:
        self.grid = grid
        self.x, self.y = self._hundredths(start)
        self.parts = [f"M{_figures(self.x)}{_joined(self.y)}"]
        self.letter = ""
        self.step = (0, 0)  # a straight step not yet written: more may follow in its direction

    def line(self, to: Spot) -> None:
        x, y = self._hundredths(to)
        step = (x - self.x, y - self.y)
        self.x, self.y = x, y
        if step == (0, 0):
            return
        if self.step != (0, 0) and _same_way(self.step, step):
            step = (self.step[0] + step[0], self.step[1] + step[1])
        else:
            self._write()
        self.step = step

    def curve(self, cubic: Cubic) -> None:
        self._write()
        spots = [self._hundredths(one) for one in (cubic.first, cubic.second, cubic.end)]
        numbers = [value for x, y in spots for value in (x - self.x, y - self.y)]
        self._put("c", numbers)
        self.x, self.y = spots[-1]

    def data(self, *, closed: bool) -> str:
        self._write()
        if len(self.parts) == 1:
            return ""
        return "".join(self.parts) + ("z" if closed else "")

    def _hundredths(self, spot: Spot) -> tuple[int, int]:
        times = 100 / self.grid
        return round(spot[0] * times) * self.grid, round(spot[1] * times) * self.grid

    def _write(self) -> None:
        dx, dy = self.step
        self.step = (0, 0)
        if dx and dy:
            self._put("l", [dx, dy])
        elif dx:
            self._put("h", [dx])
        elif dy:
            self._put("v", [dy])

    def _put(self, letter: str, numbers: list[int]) -> None:
        words = _figures(numbers[0]) + "".join(_joined(one) for one in numbers[1:])
        lead = letter if letter != self.letter else "" if words[0] == "-" else " "
        self.parts.append(lead + words)
        self.letter = letter


def _same_way(first: tuple[int, int], second: tuple[int, int]) -> bool:
    cross = first[0] * second[1] - first[1] * second[0]
    return cross == 0 and first[0] * second[0] + first[1] * second[1] > 0


def _joined(hundredths: int) -> str:
    """Return a coordinate after another, with the space before it that it needs."""
    words = _figures(hundredths)
    return words if words.startswith("-") else f" {words}"


def triangle(tip: Spot, back: Spot, length: float) -> str:
    """Return an arrowhead at `tip`, pointing away from the direction `back` (a unit vector)."""
    half = length * 0.16
    x, y = tip[0] + back[0] * length, tip[1] + back[1] * length
    return path(
        [tip, (x - back[1] * half, y + back[0] * half), (x + back[1] * half, y - back[0] * half)], closed=True
    )


def circle(centre: Spot, radius: float) -> str:
    """Return a circle as path data: two half turns."""
    r, d = number(radius), number(2 * radius)
    return f"M{number(centre[0] - radius)} {number(centre[1])}a{r} {r} 0 1 0 {d} 0 {r} {r} 0 1 0-{d} 0z"


def attributes(**named: str | float | None) -> str:
    """Return attributes, ` name="value"` each, underscores as dashes; what is None is left out."""
    return "".join(
        f' {key.rstrip("_").replace("_", "-")}="{number(value) if isinstance(value, float | int) else value}"'
        for key, value in named.items()
        if value is not None
    )


def group(cls: str, inside: Iterable[str], **named: str | float | None) -> str:
    """Return a group of a class with its attributes, or nothing where there is nothing in it."""
    body = "".join(inside)
    return f'<g class="{cls}"{attributes(**named)}>{body}</g>' if body else ""
