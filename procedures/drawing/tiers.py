"""Dimension lines along the bar, in tiers below a view: the shortest nearest, the whole length outermost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from .canvas import Canvas, Kind, Words
from .room import Box


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

    def reach(self, arrow: float) -> tuple[float, float]:
        """From where to where the dimension takes up its tier."""
        out = 0.0 if self.inside else 2 * arrow
        return min(self.measure.low - out, self.text), max(self.measure.high + out, self.text + self.wide)


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
        """Return the measure on a tier, its words over the line where they fit and beside it where not."""
        size, arrow = self.canvas.sheet.letter, self.canvas.sheet.arrow
        wide = Words(one.words, (0, 0), size, kind=one.kind).width
        room = one.high - one.low
        inside = room >= 2.6 * arrow
        middle = (one.low + one.high - wide) / 2
        if room >= wide + 0.3 * size:
            return _Placed(one, tier, middle, wide, inside)
        out = 0.3 * size if inside else 2.2 * arrow
        right = one.high + out
        if right + wide <= self.right:
            return _Placed(one, tier, right, wide, inside)
        left = one.low - out - wide
        return _Placed(one, tier, max(left, self.left), wide, inside)

    def columns(self, foot: float) -> list[Box]:
        """Return the boxes of the extension lines, from the metal to far below."""
        thin = 0.2 * self.canvas.sheet.letter
        return [
            (at - thin, top, at + thin, foot)
            for put in self.placed
            for at, top in (
                (put.measure.low, put.measure.low_foot),
                (put.measure.high, put.measure.high_foot),
            )
        ]

    def draw(self, foot: float) -> None:
        """Draw the tiers below a view whose metal and notes reach down to `foot`."""
        sheet = self.canvas.sheet
        first = foot + 1.45 * sheet.letter
        boxes = []
        for put in self.placed:
            level = first + put.tier * sheet.tier
            spot = (put.text, level - 0.28 * sheet.letter)
            words = Words(put.measure.words, spot, sheet.letter, "start", kind=put.measure.kind)
            self.canvas.write(words)
            boxes.append(words.box)
        for put in self.placed:
            self._draw_line(put, first + put.tier * sheet.tier)
        drawn: set[tuple[float, float]] = set()
        for put in sorted(self.placed, key=lambda one: -one.tier):
            level = first + put.tier * sheet.tier
            for at, top in (
                (put.measure.low, put.measure.low_foot),
                (put.measure.high, put.measure.high_foot),
            ):
                key = (round(at, 1), round(top, 1))
                if key not in drawn:
                    drawn.add(key)
                    self._draw_extension(at, top, level, boxes)

    def _draw_line(self, put: _Placed, level: float) -> None:
        one, arrow = put.measure, self.canvas.sheet.arrow
        low, high = put.reach(arrow)
        if put.inside:
            low = min(one.low, put.text)
            high = max(one.high, put.text + put.wide)
        self.canvas.line("dim", [(low, level), (high, level)])
        sense = 1 if put.inside else -1
        self.canvas.arrow((one.low, level), (sense, 0.0))
        self.canvas.arrow((one.high, level), (-sense, 0.0))

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

    @property
    def height(self) -> float:
        """How far down the tiers reach below the view."""
        if not self.placed:
            return 0.0
        sheet = self.canvas.sheet
        return 1.45 * sheet.letter + max(one.tier for one in self.placed) * sheet.tier + 0.25 * sheet.letter
