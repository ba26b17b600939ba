"""What is taken on a sheet: boxes in a coarse grid, so that looking for a free place stays quick."""

from __future__ import annotations

from collections.abc import Iterable

Box = tuple[float, float, float, float]  # least x and y, most x and y
_LONG = 60  # cells: a box longer than this is kept aside, not entered in every cell


class Room:
    """Boxes on a sheet, with `cell` the size of the grid in its units."""

    def __init__(self, cell: float) -> None:
        self.cell = cell
        self.boxes: list[Box] = []
        self._cells: dict[tuple[int, int], list[Box]] = {}
        self._long: list[Box] = []

    def add(self, *boxes: Box) -> None:
        """Take these boxes."""
        for box in boxes:
            self.boxes.append(box)
            left, top, right, foot = self._range(box, 0.0)
            if right - left > _LONG or foot - top > _LONG:
                self._long.append(box)
                continue
            for column in range(left, right + 1):
                for row in range(top, foot + 1):
                    self._cells.setdefault((column, row), []).append(box)

    def is_free(self, box: Box, gap: float = 0.0) -> bool:
        """Whether no taken box comes nearer to this one than `gap`."""
        left, top, right, foot = box[0] - gap, box[1] - gap, box[2] + gap, box[3] + gap

        def is_off(one: Box) -> bool:
            return left >= one[2] or one[0] >= right or top >= one[3] or one[1] >= foot

        if not all(map(is_off, self._long)):
            return False
        first, high, last, low = self._range(box, gap)
        for column in range(first, last + 1):
            for row in range(high, low + 1):
                near = self._cells.get((column, row))
                if near and not all(map(is_off, near)):
                    return False
        return True

    def _range(self, box: Box, gap: float) -> tuple[int, int, int, int]:
        cell = self.cell
        return (
            int((box[0] - gap) // cell),
            int((box[1] - gap) // cell),
            int((box[2] + gap) // cell),
            int((box[3] + gap) // cell),
        )


def meet(one: Box, two: Box, gap: float = 0.0) -> bool:
    """Whether two boxes come nearer to each other than `gap`."""
    return one[0] - gap < two[2] and two[0] < one[2] + gap and one[1] - gap < two[3] and two[1] < one[3] + gap


def around(spots: Iterable[tuple[float, float]]) -> Box:
    """Return the box that holds all spots."""
    xs, ys = zip(*spots, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def runs_through(first: tuple[float, float], last: tuple[float, float], box: Box) -> bool:
    """Whether a straight line runs through a box."""
    enter, leave = 0.0, 1.0
    for axis in (0, 1):
        step = last[axis] - first[axis]
        if abs(step) < 1e-9:
            if not box[axis] < first[axis] < box[axis + 2]:
                return False
            continue
        near, far = sorted(((box[axis] - first[axis]) / step, (box[axis + 2] - first[axis]) / step))
        enter, leave = max(enter, near), min(leave, far)
    return enter < leave
