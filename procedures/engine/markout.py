"""Mark-out of the raw bar: every later mark and place of work traced back to where it lies on the bar."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from procedures.engine.parameters.place_params import Marks
from procedures.engine.pieces.branch import Branch, Mark
from procedures.engine.pieces.place import Point

from .replay import Frame, PartReplay

TOGETHER = 0.25  # mm: places nearer to each other are one to a rule and a punch; our judgement
# What is done all over, or looked for on the finished piece, is not marked on the raw bar.
NOT_MARKED = {"finish", "treat", "check"}


@dataclass(frozen=True)
class Use:
    """What a place on the raw bar is for: a mark of this name, or one step or more of this title."""

    label: str
    steps: tuple[int, ...]
    kind: str  # "mark": a mark the author put; "work": where a step begins or ends; "place": where it is done

    @property
    def said(self) -> str:
        """The use in a few words: "A", "Taper (step 4)", "Draw out (steps 2, 5)"."""
        if self.kind == "mark":
            return self.label
        return f"{self.label} (step{'s' if len(self.steps) > 1 else ''} {', '.join(map(str, self.steps))})"


@dataclass(frozen=True)
class BarMark:
    """A place on the raw bar, `at` mm from its start, and all it is for: the author's marks first."""

    at: float
    uses: tuple[Use, ...]

    @property
    def step(self) -> int:
        """The first step that it is for."""
        return min(step for use in self.uses for step in use.steps)

    @property
    def kind(self) -> str:
        """The kind of its first use."""
        return self.uses[0].kind

    @property
    def said(self) -> str:
        """All its uses: "A; Taper (step 4)"."""
        return "; ".join(one.said for one in self.uses)


def bar_marks(replayed: PartReplay) -> tuple[BarMark, ...]:
    """Return the places to mark on a part's raw bar, from its start, each once.

    A place is on the list when it was put as a mark that rides on the metal, bounds the work of a step or is
    where a step is done, and its metal came from this part's own bar. Its place is where that metal lay
    before anything was done.
    """
    found: list[tuple[float, Use]] = []
    for frame in replayed.frames:
        if frame.status != "done":
            break
        found += _uses_of(frame)
    inside = [one for one in found if TOGETHER < one[0] < replayed.part.length - TOGETHER]
    return tuple(_merged(one) for one in _clusters(inside))


def _clusters(found: list[tuple[float, Use]]) -> list[list[tuple[float, Use]]]:
    """Return the uses by place, those together that lie too near to each other to be marked apart."""
    clusters: list[list[tuple[float, Use]]] = []
    for at, use in sorted(found, key=lambda one: one[0]):
        if clusters and at - clusters[-1][0][0] <= TOGETHER:
            clusters[-1].append((at, use))
        else:
            clusters.append([(at, use)])
    return clusters


def _merged(cluster: list[tuple[float, Use]]) -> BarMark:
    """Return one mark for all of these uses, where the first of them was: an author's mark, else a step."""
    by_name: dict[tuple[str, bool], Use] = {}
    first, *others = sorted(cluster, key=lambda one: (one[1].kind != "mark", one[1].steps))
    for _, use in (first, *others):
        key = use.label, use.kind == "mark"
        known = by_name.get(key)
        by_name[key] = use if known is None else _joined(known, use)
    return BarMark(first[0], tuple(by_name.values()))


def _joined(first: Use, second: Use) -> Use:
    kind = first.kind if first.kind == second.kind else "place"
    return replace(first, steps=tuple(sorted({*first.steps, *second.steps})), kind=kind)


def _uses_of(frame: Frame) -> Iterator[tuple[float, Use]]:
    """Yield (place on the raw bar [mm], use) of every mark a step puts and every place it works."""
    for branch, mark in _marks_put(frame):
        yield from _traced(frame, branch, mark.at, Use(mark.name, (frame.number,), "mark"))
    operation = frame.operation
    if operation is None or operation.family in NOT_MARKED:
        return
    points = operation.laid_out(frame.before)
    kind = "work" if points is None else "place"
    if points is None:
        points = tuple(Point(one.branch, at) for one in frame.worked for at in (one.low, one.high))
    for point in points:
        branch = frame.before.branch(point.branch)
        if 0 < point.at < branch.length:
            yield from _traced(frame, branch, point.at, Use(frame.title, (frame.number,), kind))


def _marks_put(frame: Frame) -> Iterator[tuple[Branch, Mark]]:
    """Yield (branch, mark) of the marks riding on the metal that were not there before or are put anew."""
    old = {(one.name, mark.name) for one in frame.before.branches for mark in one.marks}
    named: set[str] = set()
    if frame.operation is not None:
        for name, param in frame.operation.params().items():
            if isinstance(param, Marks):
                named |= {one.name for one in getattr(frame.operation, name)}
    for branch in frame.after.branches:
        for mark in branch.marks:
            if mark.holds == "metal" and (mark.name in named or (branch.name, mark.name) not in old):
                yield branch, mark


def _traced(frame: Frame, branch: Branch, at: float, use: Use) -> Iterator[tuple[float, Use]]:
    for bar, place in branch.bar_positions(at):
        if bar == frame.part.key:
            yield place, use
