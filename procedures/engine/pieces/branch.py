"""A branch: segments in order from its start to its end, with the marks and features that ride on them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate
from typing import Literal

from calculators.sections import Section

from .feature import Feature
from .its_metal import Run, of_its_metal
from .segment import TOUCH, Segment, close, in_line

__all__ = ["Attachment", "Branch", "End", "Feature", "Mark", "at_share", "in_order", "share_at"]

End = Literal["start", "end"]


@dataclass(frozen=True, slots=True)
class Mark:
    """A named point on a branch, `at` mm from its start along the centreline.

    It rides on the metal, unless `holds` says that it keeps its distance from the "start" or "end".
    """

    name: str
    at: float
    holds: Literal["metal", "start", "end"] = "metal"


@dataclass(frozen=True, slots=True)
class Attachment:
    """How a branch hangs on its parent: on an `end` of it or `at` a distance from its start [mm].

    `angle` turns it to the left in plan, `elevation` upwards, in degrees away from the parent's own
    direction there, and `roll` then about its own length, by the right-hand rule. What hangs there is the
    place `by` mm from its own start; it lies `ahead` along the parent's centreline, `offset` to the left of
    it and `up` above it [mm].
    """

    parent: str
    at: End | float = "end"
    angle: float = 0.0
    elevation: float = 0.0
    offset: float = 0.0
    ahead: float = 0.0
    up: float = 0.0
    roll: float = 0.0
    by: float = 0.0


@dataclass(frozen=True)  # without slots: what a step asks again and again is reckoned once
class Branch:
    """One branch of the piece. Distances along it are in mm from its start, on the centreline."""

    name: str
    segments: Run
    marks: tuple[Mark, ...] = ()
    features: tuple[Feature, ...] = ()
    attached: Attachment | None = None

    @cached_property
    def _ends(self) -> tuple[float, ...]:
        """How far from the start each segment ends [mm]."""
        return tuple(accumulate(one.length for one in self.segments))

    @cached_property
    def _parted(self) -> dict[tuple[float, float], tuple[Run, Run, Run]]:
        """What `parted` found before."""
        return {}

    @property
    def said(self) -> str:
        """What it is called within a sentence: "the bar" where it hangs on nothing, an arm by its name."""
        return self.name if self.attached else f"the {self.name}"

    @property
    def length(self) -> float:
        """Length along the centreline [mm]."""
        return self._ends[-1] if self._ends else 0.0

    @cached_property
    def volume(self) -> float:
        """Volume [mm³], holes and bosses reckoned in."""
        return sum(one.volume for one in self.segments) + sum(one.volume for one in self.features)

    @property
    def is_held_at_start(self) -> bool:
        """Whether its start is what it hangs by."""
        return self.attached is not None and self.attached.by <= TOUCH

    def mark(self, name: str) -> Mark | None:
        """Return the mark of this name, or None."""
        return next((one for one in self.marks if one.name == name), None)

    def locate(self, at: float) -> tuple[int, float]:
        """Return (index of the segment, distance into it [mm]) for a distance from the start."""
        if not self.segments:
            raise ValueError("a branch without segments has no places")
        index = min(bisect_left(self._ends, at), len(self.segments) - 1)
        return index, min(max(at - self._begin(index), 0.0), self.segments[index].length)

    def _begin(self, index: int) -> float:
        return self._ends[index - 1] if index else 0.0

    def section_at(self, at: float) -> Section:
        """Return the section at a distance [mm] from the start; at a step, the one before it."""
        index, inside = self.locate(at)
        return self.segments[index].section_at(inside)

    def parted(self, low: float, high: float) -> tuple[Run, Run, Run]:
        """Return the segments before, in and after a range [mm], cut at its ends."""
        found = self._parted.get((low, high))
        if found is None:
            found = self._parted[low, high] = self._cut(low, high)
        return found

    def _cut(self, low: float, high: float) -> tuple[Run, Run, Run]:
        first = bisect_right(self._ends, low + TOUCH)
        before, rest = self.segments[:first], self.segments[first:]
        inside = low - self._begin(first)
        if rest and inside > TOUCH:
            left, right = rest[0].cut(inside)
            before, rest = (*before, left), (right, *rest[1:])
        last = max(bisect_right(self._ends, high + TOUCH) - first, 0)
        run, after = rest[:last], rest[last:]
        inside = high - (low if not last and inside > TOUCH else self._begin(first + last))
        if after and inside > TOUCH:
            left, right = after[0].cut(inside)
            run, after = (*run, left), (right, *after[1:])
        return before, run, after

    def segments_between(self, low: float, high: float) -> Run:
        """Return the run of segments between two distances [mm], cut there."""
        return self.parted(low, high)[1]

    def volume_between(self, low: float, high: float) -> float:
        """Return the volume of the segments between two distances [mm³], features left out."""
        return sum(one.volume for one in self.segments_between(low, high))

    def sections_between(self, low: float, high: float) -> tuple[Section, Section]:
        """Return the sections at the two ends of a range, as seen from inside it."""
        run = self.segments_between(low, high)
        if not run:
            here = self.section_at(low)
            return here, here
        return run[0].start, run[-1].end

    def sections_along(self, low: float, high: float) -> tuple[Section, ...]:
        """Return the sections at the ends of each segment of a range, in order, and at a leaf's widest."""
        return tuple(
            section
            for one in self.segments_between(low, high)
            for section in ((one.start, one.widest, one.end) if one.bulge else (one.start, one.end))
        )

    def largest_between(self, low: float, high: float) -> Section:
        """Return the section of the largest area in a range."""
        return max(self.sections_along(low, high), key=lambda one: one.area)

    def replaced(self, low: float, high: float, run: tuple[Segment, ...]) -> Branch:
        """Return the branch with its range low..high [mm] worked into the segments `run`.

        Marks, features, origins and treatments inside the range keep their share of its volume; those beyond
        it move with its end. Segments without a shift of their own stay in line with the bar they hang on.
        The caller sees to it that no metal is lost on the way.
        """
        before, old, after = self.parted(low, high)
        new = of_its_metal(run, old)
        if old:
            new = in_line(new, (old[-1] if not before and after else old[0]).shift)
        move = _mover(low, high, old, new)
        gain = sum(one.length for one in new) - (high - low)
        return replace(
            self,
            segments=before + new + after,
            marks=in_order((self._moved(one, gain, move) for one in self.marks), self.length + gain),
            features=tuple(one.moved(move) for one in self.features),
        )

    def _moved(self, mark: Mark, gain: float, move: Callable[[float], float]) -> Mark:
        """Return the mark where it is after a step that made the branch longer by `gain`."""
        if mark.holds == "start":
            return mark
        at = mark.at + gain if mark.holds == "end" else move(mark.at)
        return mark if at == mark.at else replace(mark, at=at)

    def mover(self, low: float, high: float, run: tuple[Segment, ...]) -> Callable[[float], float]:
        """Return the function that says where a distance goes when low..high is worked into `run`."""
        return _mover(low, high, self.segments_between(low, high), run)

    def changed(self, low: float, high: float, change: Callable[[Segment], Segment]) -> Branch:
        """Return the branch with every segment of a range changed in place; lengths stay as they are."""
        before, inside, after = self.parted(low, high)
        return replace(self, segments=(*before, *(change(one) for one in inside), *after))

    def bar_positions(self, at: float) -> list[tuple[str, float]]:
        """Return (starting bar, place on it [mm]) of the metal at a distance from the start."""
        index, inside = self.locate(at)
        found = self.segments[index].bar_positions(inside)
        if close(inside, self.segments[index].length) and index + 1 < len(self.segments) and not found:
            return self.segments[index + 1].bar_positions(0.0)
        return found

    def turned(self) -> Branch:
        """Return the same metal with its start and end exchanged."""
        length = self.length
        swap = {"start": "end", "end": "start", "metal": "metal"}
        return replace(
            self,
            segments=tuple(one.turned() for one in reversed(self.segments)),
            marks=tuple(
                replace(one, at=length - one.at, holds=swap[one.holds])  # type: ignore[arg-type]
                for one in reversed(self.marks)
            ),
            features=tuple(one.turned(length) for one in reversed(self.features)),
        )


def in_order(marks: Iterable[Mark], length: float) -> tuple[Mark, ...]:
    """Return marks as they follow each other on a branch of this length [mm].

    One that stays with an end and would lie beyond the other end comes to lie there.
    """
    placed = (
        one if 0.0 <= one.at <= length else replace(one, at=min(max(one.at, 0.0), length)) for one in marks
    )
    return tuple(sorted(placed, key=lambda one: one.at))


def _mover(low: float, high: float, old: Run, new: Run) -> Callable[[float], float]:
    gain = sum(one.length for one in new) - (high - low)

    def move(at: float) -> float:
        if at <= low + TOUCH:
            return min(at, low) if at <= low else low
        if at >= high - TOUCH:
            return max(at, high) + gain
        return low + at_share(new, share_at(old, at - low))

    return move


def share_at(run: tuple[Segment, ...], at: float) -> float:
    """Return the share (0..1) of a run's volume within `at` mm of its start."""
    whole = sum(one.volume for one in run)
    done, rest = 0.0, at
    for segment in run:
        if rest <= segment.length:
            done += segment.volume_to(max(rest, 0.0))
            break
        done += segment.volume
        rest -= segment.length
    return min(done / whole, 1.0) if whole > 0 else 0.0


def at_share(run: tuple[Segment, ...], share: float) -> float:
    """Return the distance [mm] from a run's start within which this share of its volume lies."""
    rest = share * sum(one.volume for one in run)
    along = 0.0
    for segment in run:
        if rest <= segment.volume:
            return along + segment.at_volume(max(rest, 0.0))
        rest -= segment.volume
        along += segment.length
    return along
