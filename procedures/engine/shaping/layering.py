"""Metal welded in layers: two runs that lie on or in each other and become one run of bar."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch, at_share, in_order, share_at
from procedures.engine.pieces.origin import Slice, in_a_row, within
from procedures.engine.pieces.segment import TOUCH, Segment, uniform

Run = tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class LayerWeld:
    """Two runs in a row on a branch, from `low` to `seam` to `high` mm: the second goes back into the first.

    Then both begin where the weld begins, such as at the bottom of a cleft; the longer one goes on alone.
    """

    low: float
    seam: float
    high: float

    def welded(self, branch: Branch, dressed: Section) -> tuple[Branch, Callable[[float], float]]:
        """Return the branch with both runs made one of this section, and where its places go."""
        first = branch.segments_between(self.low, self.seam)
        second = branch.segments_between(self.seam, self.high)
        layers = _Layers(first, second)
        weld = replace(uniform(dressed, layers.volume / dressed.area), origin=layers.origin())
        segments = (
            *branch.segments_between(0.0, self.low),
            weld,
            *branch.segments_between(self.high, branch.length),
        )

        def move(at: float) -> float:
            if at <= self.low:
                return at
            if at >= self.high:
                return at + weld.length - (self.high - self.low)
            run, start = (first, self.low) if at <= self.seam + TOUCH else (second, self.seam)
            return self.low + weld.length * layers.share(run, at - start)

        gain = weld.length - (self.high - self.low)
        marks = [
            one
            if one.holds == "start"
            else replace(one, at=one.at + gain if one.holds == "end" else move(one.at))
            for one in branch.marks
        ]
        new = replace(
            branch,
            segments=segments,
            marks=in_order(marks, branch.length + gain),
            features=tuple(one.moved(move) for one in branch.features),
        )
        return new, move


@dataclass(frozen=True, slots=True)
class _Layers:
    first: Run
    second: Run

    @property
    def volume(self) -> float:
        """Volume of both [mm³]."""
        return sum(one.volume for one in (*self.first, *self.second))

    @property
    def _together(self) -> float:
        """How far [mm] the two lie together."""
        return min(sum(one.length for one in run) for run in (self.first, self.second))

    @property
    def _split(self) -> float:
        """The share of the weld in which both lie."""
        return sum(self._within(run) for run in (self.first, self.second)) / self.volume

    def _within(self, run: Run) -> float:
        """Return the volume [mm³] of a run that lies together with the other."""
        return share_at(run, self._together) * sum(one.volume for one in run)

    def share(self, run: Run, at: float) -> float:
        """Return the share of the weld within which a run's metal up to a distance [mm] lies."""
        whole = sum(one.volume for one in run)
        done, near = share_at(run, at) * whole, self._within(run)
        if done <= near or near >= whole:
            return self._split * min(done / near, 1.0)
        return self._split + (1 - self._split) * (done - near) / (whole - near)

    def origin(self) -> tuple[Slice, ...]:
        """Return where the metal of the weld came from, the two as layers of each other."""
        slices: list[Slice] = []
        for run in (self.first, self.second):
            near = at_share(run, self._within(run) / sum(one.volume for one in run))
            together, alone = _cut(run, near)
            slices += within(_row(together), 0.0, self._split)
            slices += within(_row(alone), self._split, 1.0)
        return tuple(slices)


def _row(run: Run) -> tuple[Slice, ...]:
    return in_a_row([(one.origin, one.volume) for one in run])


def _cut(run: Run, at: float) -> tuple[Run, Run]:
    whole = Branch("", run)
    return whole.segments_between(0.0, at), whole.segments_between(at, whole.length)
