"""The rail: labels in rows above a view, each straight over what it names, with a thin line down to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from .canvas import Canvas, Kind, Words
from .lettering import fitted
from .room import Box
from .sheet import CAP

_CLOSE, _WELL_OFF = 0.35, 1.1  # letters between neighbours: at the least, and where there is room


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


@dataclass
class Rail:
    """Rows of labels, the first nearest to the view."""

    canvas: Canvas
    left: float
    right: float
    most_rows: int
    placed: list[tuple[Label, int, float, float, float]] = field(
        default_factory=list
    )  # row, left, right, line

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
        """Put a label where its place is; along a run, well away from its neighbours if that can be."""
        size = self.canvas.sheet.letter
        if label.high - label.low < size:
            return self._put(label, wide, [], _CLOSE * size)
        tries: tuple[tuple[Sequence[float], float], ...] = ((fixed, _WELL_OFF), (fixed, _CLOSE), ((), _CLOSE))
        return any(self._put(label, wide, keep, gap * size) for keep, gap in tries)

    def _put(self, label: Label, wide: float, keep: Sequence[float], gap: float) -> bool:
        for row in range(self.most_rows):
            for line in self._lines(label):
                for left in self._lefts(line, wide):
                    if self._is_free(row, left, left + wide, line, keep, gap):
                        self.placed.append((label, row, left, left + wide, line))
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
        if any(left - gap < at < right + gap for at in keep):
            return False
        for _, other_row, other_left, other_right, other_line in self.placed:
            if other_row == row and left - gap < other_right and other_left < right + gap:
                return False
            if other_row > row and left - gap / 2 < other_line < right + gap / 2:
                return False
            if other_row < row and other_left - gap / 2 < line < other_right + gap / 2:
                return False
            if abs(other_line - line) < gap / 2:
                return False
        return True

    def draw(self, top: float) -> None:
        """Draw the placed labels over a view whose metal and notes reach up to `top`."""
        size = self.canvas.sheet.letter
        for label, row, left, right, line in self.placed:
            level = top - 0.55 * size - row * 1.2 * size
            words = fitted(label.words, size, right - left + 1e-6)
            self.canvas.write(Words(words, (left, level), size, "start", kind=label.kind))
            self.canvas.line("dim", [(line, level + 0.22 * size), (line, label.foot)])
            if label.dot:
                self.canvas.circle("dot", (line, label.foot), 0.11 * size)

    def columns(self, top: float) -> list[Box]:
        """Return the boxes of the lines that come down, from far above to where each ends."""
        thin = 0.25 * self.canvas.sheet.letter
        return [(line - thin, top, line + thin, label.foot) for label, _, _, _, line in self.placed]

    @property
    def height(self) -> float:
        """How high the rows stand over the view."""
        size = self.canvas.sheet.letter
        rows = max((row for _, row, _, _, _ in self.placed), default=-1) + 1
        return 0.55 * size + (rows - 1) * 1.2 * size + CAP * size if rows else 0.0
