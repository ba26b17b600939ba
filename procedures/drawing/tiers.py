"""Dimension lines along the bar, in tiers below a view: the shortest nearest, the whole length outermost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from .canvas import Canvas, Kind, Words
from .room import Box

if TYPE_CHECKING:
    from .panel import Panel

_LEVEL = 2.5  # letters: dimensions whose metal is higher by less stand level with the others


@dataclass(frozen=True)
class Measure:
    """A length along X on the sheet from `low` to `high`, its words, and the heights of its two ends."""

    low: float
    high: float
    words: str
    low_foot: float
    high_foot: float
    outermost: bool = False
    kind: Kind = "text"


@dataclass
class _Placed:
    measure: Measure
    tier: int
    text: float  # where the words begin
    wide: float
    inside: bool  # whether the arrowheads lie between the ends
    dots: tuple[bool, bool] = (False, False)  # ends with no room for an arrowhead outside: a dot instead

    def reach(self, arrow: float) -> tuple[float, float]:
        """From where to where the dimension takes up its tier."""
        before, after = (0.0 if self.inside or dot else 2 * arrow for dot in self.dots)
        return min(self.measure.low - before, self.text), max(
            self.measure.high + after, self.text + self.wide
        )


@dataclass
class Tiers:
    """The tiers of one view."""

    canvas: Canvas
    left: float
    right: float
    placed: list[_Placed] = field(default_factory=list)

    def place(self, measures: Iterable[Measure]) -> None:
        """Give every measure a tier and its words a place on it."""
        gap = 0.4 * self.canvas.sheet.letter
        arrow = self.canvas.sheet.arrow
        for one in sorted(measures, key=lambda one: (one.outermost, one.high - one.low)):
            tier = 0
            if one.outermost and self.placed:
                tier = max(other.tier for other in self.placed) + 1
            while True:
                put = self._fitted(one, tier)
                low, high = put.reach(arrow)
                others = (other.reach(arrow) for other in self.placed if other.tier == tier)
                if all(high + gap < left or right + gap < low for left, right in others):
                    break
                tier += 1
            self.placed.append(put)

    def _fitted(self, one: Measure, tier: int) -> _Placed:
        """Return the measure on a tier, its words over the line or, for want of room, beside it."""
        size, arrow = self.canvas.sheet.letter, self.canvas.sheet.arrow
        wide = Words(one.words, (0, 0), size, kind=one.kind).width
        room = one.high - one.low
        inside = room >= 2.6 * arrow
        middle = (one.low + one.high - wide) / 2
        dots = (one.low - 2 * arrow < self.left, one.high + 2 * arrow > self.right)
        dots = (False, False) if inside else dots
        if room >= wide + 0.3 * size:
            return _Placed(one, tier, middle, wide, inside, dots)
        out = 0.3 * size if inside else 2.2 * arrow
        right = one.high + out
        if right + wide <= self.right:
            return _Placed(one, tier, right, wide, inside, dots)
        left = one.low - out - wide
        return _Placed(one, tier, max(left, self.left), wide, inside, dots)

    def draw(self, panel: Panel, foot: float, *, together: bool = False) -> None:
        """Draw each tier below its metal, or `together` and the outermost always below `foot`."""
        sheet = self.canvas.sheet
        levels = [self._level(put, panel, foot, together=together) for put in self.placed]
        for put, level in zip(self.placed, levels, strict=True):
            spot = (put.text, level - 0.28 * sheet.letter)
            words = Words(put.measure.words, spot, sheet.letter, "start", kind=put.measure.kind)
            self.canvas.write(words)
        boxes = [one.box for one in self.canvas.words]
        for put, level in zip(self.placed, levels, strict=True):
            self._draw_line(put, level)
        self._draw_extensions(levels, boxes)

    def _level(self, put: _Placed, panel: Panel, foot: float, *, together: bool) -> float:
        size = self.canvas.sheet.letter
        left, right = put.reach(self.canvas.sheet.arrow)
        local = panel.foot_under(left - 0.3 * size, right + 0.3 * size)
        near = together or local is None or foot - local < _LEVEL * size or put.measure.outermost
        base = foot if local is None or near else local
        return base + 1.45 * size + put.tier * self.canvas.sheet.tier

    def _draw_extensions(self, levels: list[float], boxes: list[Box]) -> None:
        """Draw the extension lines, where several share a place only the longest."""
        longest: dict[tuple[float, float], float] = {}
        for put, level in zip(self.placed, levels, strict=True):
            one = put.measure
            for at, top in ((one.low, one.low_foot), (one.high, one.high_foot)):
                key = (round(at, 1), round(top, 1))
                longest[key] = max(longest.get(key, level), level)
        thin = 0.15 * self.canvas.sheet.letter
        for (at, top), level in longest.items():
            self._draw_extension(at, top, level, boxes)
            self.canvas.taken.add((at - thin, top, at + thin, level))

    def _draw_line(self, put: _Placed, level: float) -> None:
        one, arrow = put.measure, self.canvas.sheet.arrow
        low, high = put.reach(arrow)
        if put.inside:
            low = min(one.low, put.text)
            high = max(one.high, put.text + put.wide)
        self.canvas.line("dim", [(low, level), (high, level)])
        self.canvas.taken.add((low, level - 0.1 * arrow, high, level + 0.1 * arrow))
        sense = 1 if put.inside else -1
        for at, dot, way in ((one.low, put.dots[0], sense), (one.high, put.dots[1], -sense)):
            if dot:
                self.canvas.circle("dot", (at, level), 0.3 * arrow)
            else:
                self.canvas.arrow((at, level), (way, 0.0))

    def _draw_extension(self, at: float, top: float, level: float, boxes: list[Box]) -> None:
        """Draw an extension line from the metal to a little beyond its dimension line, leaving words free."""
        size = self.canvas.sheet.letter
        over = level + 0.22 * size
        begun = top + 0.18 * size
        clear = 0.12 * size
        for box in sorted(boxes, key=lambda one: one[1]):
            if box[0] - clear < at < box[2] + clear and begun < box[3] and box[1] < over:
                if box[1] - clear > begun:
                    self.canvas.line("dim", [(at, begun), (at, box[1] - clear)])
                begun = box[3] + clear
        if begun < over:
            self.canvas.line("dim", [(at, begun), (at, over)])
