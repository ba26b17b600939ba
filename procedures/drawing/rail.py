"""The rail: labels in rows above a view, each straight over what it names, with a thin line down to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from .canvas import Canvas, Kind, Words
from .lettering import fitted

if TYPE_CHECKING:
    from .panel import Panel

_CLOSE, _WELL_OFF = 0.35, 1.1  # letters between neighbours: at the least, and where there is room
_LEVEL = 2.5  # letters: labels whose metal is lower by less stand level with the others
_HANGS = 7.0  # letters: one that would hang higher over what it names goes beside it instead


@dataclass(frozen=True)
class Label:
    """Words for a place: their line may come down anywhere from `low` to `high`, to the height `foot`."""

    words: str
    low: float
    high: float
    foot: float
    rank: int  # what is placed first, and kept when there is too little room: lower
    kind: Kind = "text"
    dot: bool = False


@dataclass(frozen=True)
class Placed:
    """A label in its row from `left` to `right`, its line at `line`, over metal that reaches to `base`."""

    label: Label
    row: int
    left: float
    right: float
    line: float
    base: float = 0.0


@dataclass
class Rail:
    """Rows of labels, the first nearest to the view."""

    canvas: Canvas
    left: float
    right: float
    most_rows: int
    breaks: tuple[tuple[float, float], ...] = ()  # stretches of the sheet in which no line may come down
    placed: list[Placed] = field(default_factory=list)

    def place(self, labels: Sequence[Label]) -> list[Label]:
        """Find a place for the labels; return those that found none.

        A label that may stand anywhere along a run keeps clear of the places that others have to stand at.
        """
        size = self.canvas.sheet.letter
        fixed = [one.low for one in labels if one.high - one.low < size]
        lost = []
        for label in sorted(labels, key=lambda one: (one.rank, one.low)):
            short = fitted(label.words, size, self.right - self.left)
            wide = Words(short, (0, 0), size, kind=label.kind).width
            if not short or not self._put_somewhere(label, wide, fixed):
                lost.append(label)
        return lost

    def _put_somewhere(self, label: Label, wide: float, fixed: Sequence[float]) -> bool:
        """Put a label clear of where others have to stand, along a run well away from them; else anywhere."""
        size = self.canvas.sheet.letter
        others = [at for at in fixed if at != label.low]
        tries: list[tuple[Sequence[float], float]] = [(others, _CLOSE), ((), _CLOSE)]
        if label.high - label.low >= size:
            tries.insert(0, (others, _WELL_OFF))
        return any(self._put(label, wide, keep, gap * size) for keep, gap in tries)

    def _put(self, label: Label, wide: float, keep: Sequence[float], gap: float) -> bool:
        for row in range(self.most_rows):
            for line in self._lines(label):
                for left in self._lefts(line, wide):
                    if self._is_free(row, left, left + wide, line, keep, gap):
                        self.placed.append(Placed(label, row, left, left + wide, line))
                        return True
        return False

    def _lines(self, label: Label) -> list[float]:
        """Return where a label's line may come down, best first: the middle, then further and further out."""
        middle, half = (label.low + label.high) / 2, (label.high - label.low) / 2
        step = 0.6 * self.canvas.sheet.letter
        count = min(int(half / step), 40)
        return [middle] + [middle + sign * step * index for index in range(1, count + 1) for sign in (1, -1)]

    def _lefts(self, line: float, wide: float) -> list[float]:
        """Return where a label may begin so that its line comes down from under it."""
        inset = min(0.25 * self.canvas.sheet.letter, wide / 2)
        shifts = (-wide / 2, -wide / 4, -3 * wide / 4, -inset, inset - wide)
        tried = [min(max(line + shift, self.left), self.right - wide) for shift in shifts]
        return [left for left in tried if left + inset <= line + 1e-6 and line - 1e-6 <= left + wide - inset]

    def _is_free(
        self, row: int, left: float, right: float, line: float, keep: Sequence[float], gap: float
    ) -> bool:
        if any(low - gap / 2 < line < high + gap / 2 for low, high in self.breaks):
            return False
        if row == 0 and any(left - gap < at < right + gap for at in keep):  # higher up, they pass below
            return False
        for one in self.placed:
            if one.row == row and left - gap < one.right and one.left < right + gap:
                return False
            if one.row > row and left - gap / 2 < one.line < right + gap / 2:
                return False
            if one.row < row and one.left - gap / 2 < line < one.right + gap / 2:
                return False
            if abs(one.line - line) < gap / 2:
                return False
        return True

    def settle(self, panel: Panel) -> list[Label]:
        """Give every label its height over the metal below it; return those that would hang far above theirs.

        Labels that could stand nearly level do so, over the highest metal there is.
        """
        size = self.canvas.sheet.letter
        highest = min((one[1] for one in (*panel.metal.boxes, *panel.ghost.boxes)), default=0.0)
        far: list[Label] = []
        kept = []
        for one in self.placed:
            local = panel.top_over(one.left - 0.3 * size, one.right + 0.3 * size)
            base = highest if local is None or local - highest < _LEVEL * size else local
            if one.label.foot - base > _HANGS * size:
                far.append(one.label)
            else:
                kept.append(replace(one, base=base))
        crossed = [one for one in kept if any(self._crosses(other, one) for other in kept)]
        self.placed = [one for one in kept if one not in crossed]
        return far + [one.label for one in crossed]

    def _level(self, one: Placed) -> float:
        """Return the height of the line of writing of a label."""
        return one.base - (0.55 + one.row * 1.2) * self.canvas.sheet.letter

    def _crosses(self, one: Placed, other: Placed) -> bool:
        """Whether the line that comes down from one label runs through another's words."""
        gap = 0.1 * self.canvas.sheet.letter
        if one is other or not other.left - gap < one.line < other.right + gap:
            return False
        return self._level(one) < self._level(other) - gap and self._level(other) - gap < one.label.foot

    def draw(self) -> None:
        """Draw the labels, and keep their places and the lines that come down from them clear."""
        size = self.canvas.sheet.letter
        thin = 0.25 * size
        for one in self.placed:
            label, line = one.label, one.line
            level = self._level(one)
            words = fitted(label.words, size, one.right - one.left + 1e-6)
            self.canvas.write(Words(words, (one.left, level), size, "start", kind=label.kind))
            if label.foot <= level + 0.22 * size:  # what it names reaches higher than its words
                continue
            self.canvas.line("dim", [(line, level + 0.22 * size), (line, label.foot)])
            self.canvas.taken.add((line - thin, level, line + thin, label.foot))
            if label.dot:
                self.canvas.dot((line, label.foot))
