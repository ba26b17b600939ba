"""Places on a piece as smiths say them: so far from the end, between two marks, the whole of each arm.

A `Place` is a range, a `Position` a point. Both name a branch, or a group whose every member is meant.
Distances are measured along the centreline in mm, on the piece as it is before the step.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from procedures.engine.finding import Unworkable, stop

from .branch import Branch
from .segment import TOUCH

RangeDatum = Literal["whole", "start", "end", "centre", "mark", "between"]
PointDatum = Literal["start", "end", "centre", "mark"]
Toward = Literal["start", "end", "both"]


@dataclass(frozen=True, slots=True)
class Span:
    """A range on one branch, `low` to `high` mm from its start."""

    branch: str
    low: float
    high: float

    @property
    def length(self) -> float:
        """Length of the range [mm]."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class Point:
    """A point on one branch, `at` mm from its start."""

    branch: str
    at: float


@dataclass(frozen=True, slots=True)
class Place:
    """A range of metal.

    datum     the range
    whole     all of the branch
    start     from `offset` to `offset + length` mm from the start
    end       the same, measured back from the end
    centre    `length` mm, half on each side of the middle of the branch
    mark      from `offset` past `mark` for `length` mm `toward` an end; "both": half on each side
    between   from `mark` to `mark_to`

    Without `length` the range runs on to the end of the branch that it faces.
    """

    on: str
    datum: RangeDatum = "whole"
    offset: float = 0.0
    length: float | None = None
    mark: str = ""
    mark_to: str = ""
    toward: Toward = "end"

    def span(self, branch: Branch) -> Span:
        """Return the range on this branch. Raises Unworkable where it is not on the branch."""
        low, high = self._ends(branch)
        if high - low < TOUCH:
            raise Unworkable(
                stop(
                    "place.empty",
                    "The range on {branch} has no length.",
                    hint="Give a length above 0, or work all of it.",
                    branch=branch.said,
                )
            )
        if low < -TOUCH or high > branch.length + TOUCH:
            raise Unworkable(
                stop(
                    "place.off_the_branch",
                    "The range reaches {over:length} beyond {branch}, which is {long:length} long here.",
                    hint="Give a length of at most {most:length}, or measure from the other end.",
                    over=max(-low, high - branch.length),
                    branch=branch.said,
                    long=branch.length,
                    most=max((high - low) - max(-low, high - branch.length), 0.0),
                )
            )
        return Span(branch.name, max(low, 0.0), min(high, branch.length))

    def _ends(self, branch: Branch) -> tuple[float, float]:
        whole = branch.length
        if self.datum == "whole":
            return 0.0, whole
        if self.datum == "between":
            return _ordered(marked(branch, self.mark), marked(branch, self.mark_to))
        if self.datum == "centre" or (self.datum == "mark" and self.toward == "both"):
            middle = whole / 2 if self.datum == "centre" else marked(branch, self.mark)
            half = (whole if self.length is None else self.length) / 2
            return middle - half, middle + half
        if self.datum == "start":
            return self._run(self.offset, whole, +1)
        if self.datum == "end":
            return self._run(whole - self.offset, whole, -1)
        sense = +1 if self.toward == "end" else -1
        return self._run(marked(branch, self.mark) + sense * self.offset, whole, sense)

    def _run(self, begin: float, whole: float, sense: int) -> tuple[float, float]:
        if self.length is None:
            return (begin, whole) if sense > 0 else (0.0, begin)
        return _ordered(begin, begin + sense * self.length)


@dataclass(frozen=True, slots=True)
class Position:
    """A point: `offset` mm from the start or end, from the middle, or from `mark` `toward` an end."""

    on: str
    datum: PointDatum = "end"
    offset: float = 0.0
    mark: str = ""
    toward: Literal["start", "end"] = "end"

    def point(self, branch: Branch) -> Point:
        """Return the point on this branch. Raises Unworkable where it is not on the branch."""
        sense = +1 if self.toward == "end" else -1
        if self.datum == "start":
            at = self.offset
        elif self.datum == "end":
            at = branch.length - self.offset
        elif self.datum == "centre":
            at = branch.length / 2 + sense * self.offset
        else:
            at = marked(branch, self.mark) + sense * self.offset
        if at < -TOUCH or at > branch.length + TOUCH:
            raise Unworkable(
                stop(
                    "place.off_the_branch",
                    "The place lies {over:length} beyond {branch}, which is {long:length} long here.",
                    hint="Choose a distance of at most {long:length}.",
                    over=max(-at, at - branch.length),
                    branch=branch.said,
                    long=branch.length,
                )
            )
        return Point(branch.name, min(max(at, 0.0), branch.length))


def marked(branch: Branch, name: str) -> float:
    """Return how far the mark `name` is from the start. Raises Unworkable when there is no such mark."""
    mark = branch.mark(name)
    if mark is None:
        have = ", ".join(one.name for one in branch.marks)
        raise Unworkable(
            stop(
                "place.no_such_mark",
                "There is no mark {name} on {branch} at this step.",
                hint="Marks there: {have}." if have else "It has no marks yet: mark it out first.",
                have=have,
                name=name or "(none named)",
                branch=branch.said,
            )
        )
    return mark.at


def _ordered(first: float, second: float) -> tuple[float, float]:
    return (first, second) if first <= second else (second, first)
