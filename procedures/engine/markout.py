"""Mark-out of the raw bar: every later mark and place of work traced back to where it lies on the bar."""

from __future__ import annotations

from dataclasses import dataclass

from .place import Point, marked
from .replay import Frame, PartReplay


@dataclass(frozen=True)
class BarMark:
    """A place on the raw bar, `at` mm from its start, and what it is for."""

    at: float
    label: str
    step: int
    kind: str  # "mark": a mark the author put; "work": where a step begins or ends; "place": where it is done


def bar_marks(replayed: PartReplay) -> tuple[BarMark, ...]:
    """Return the places to mark on a part's raw bar, from its start, each once.

    A place is on the list when it was put as a mark, bounds the work of a step or is where a step is done,
    and its metal came from this part's own bar. Its place is where that metal lay before anything was done.
    """
    found: dict[float, BarMark] = {}
    for frame in replayed.frames:
        if frame.status != "done":
            break
        for mark in _marks_of(frame):
            found.setdefault(round(mark.at, 1), mark)
    length = replayed.part.length
    inside = [one for one in found.values() if 0.05 < one.at < length - 0.05]
    return tuple(sorted(inside, key=lambda one: (one.at, one.step)))


def _marks_of(frame: Frame) -> list[BarMark]:
    bar = frame.part.key
    marks = []
    new = {(one.name, mark.name) for one in frame.after.branches for mark in one.marks}
    old = {(one.name, mark.name) for one in frame.before.branches for mark in one.marks}
    for branch_name, mark_name in sorted(new - old):
        branch = frame.after.branch(branch_name)
        marks += [
            BarMark(at, mark_name, frame.number, "mark")
            for on, at in branch.bar_positions(marked(branch, mark_name))
            if on == bar
        ]
    kind, points = _work_of(frame)
    for point in points:
        branch = frame.before.branch(point.branch)
        if 0 < point.at < branch.length:
            marks += [
                BarMark(at, frame.title, frame.number, kind)
                for on, at in branch.bar_positions(point.at)
                if on == bar
            ]
    return marks


def _work_of(frame: Frame) -> tuple[str, tuple[Point, ...]]:
    """Return the kind and the points of what a step has to be marked out for, on the piece it found."""
    points = frame.operation.laid_out(frame.before) if frame.operation else None
    if points is not None:
        return "place", points
    edges = [Point(one.branch, at) for one in frame.worked for at in (one.low, one.high)]
    return "work", tuple(edges)
