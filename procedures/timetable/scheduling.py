"""One schedule: whoever the rule puts first starts, as soon as all that is needed is free."""

from __future__ import annotations

import heapq
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from .tasks import FORGE, Job, Task, check_places, own_minutes


@dataclass(frozen=True, slots=True)
class Entry:
    """A task in a schedule: who, which of their tasks, when, at which slots.

    `ready` is when they could have begun. `released` is when its slot in the fire is free again, later than
    `end` where an iron keeps its place there; other slots are free at `end`.
    """

    student: int
    index: int
    task: Task
    ready: float
    start: float
    end: float
    slots: tuple[tuple[str, int], ...]
    released: float

    @property
    def waited(self) -> float:
        """Minutes lost before it began."""
        return self.start - self.ready


@dataclass(frozen=True, slots=True)
class Schedule:
    """Who does what when; `minutes` is when the last one ends."""

    entries: tuple[Entry, ...]
    minutes: float


Rank = Callable[["Line"], tuple[float, ...]]


@dataclass(slots=True)
class Line:
    """A student in the queue: minutes of work left, since when they wait, and their place in the class."""

    student: int
    left: float
    since: float = 0.0
    at: int = 0


def most_left(line: Line) -> tuple[float, ...]:
    """Rank whoever has the most work left first."""
    return (-line.left, line.student)


def first_come(line: Line) -> tuple[float, ...]:
    """Rank whoever waits longest first."""
    return (line.since, -line.left, line.student)


def in_turn(line: Line) -> tuple[float, ...]:
    """Rank by the place in the class."""
    return (line.student,)


def schedule(
    jobs: Sequence[Job], slots: Mapping[str, int], *, holds: bool = False, rank: Rank = most_left
) -> Schedule:
    """Return a schedule in which nobody waits for what is free. Raises NoSchedule.

    With `holds` an iron keeps its place in the fire until its smith has the next place.
    """
    check_places(jobs, slots)
    return _Shop(jobs, slots, holds=holds, rank=rank).run()


class _Shop:
    """The shop as time goes by."""

    def __init__(self, jobs: Sequence[Job], slots: Mapping[str, int], *, holds: bool, rank: Rank) -> None:
        self.jobs = jobs
        self.holds = holds
        self.rank = rank
        self.free = {place: list(range(count)) for place, count in slots.items()}
        self.waiting = {one: Line(one, own_minutes(job)) for one, job in enumerate(jobs) if job}
        self.working: list[tuple[float, int]] = []
        self.lines = dict(self.waiting)
        self.last: list[int | None] = [None] * len(jobs)  # the entry of each student's latest task
        self.held: dict[int, int] = {}  # an iron's slot in the fire, by its smith
        self.entries: list[Entry] = []

    def run(self) -> Schedule:
        now = 0.0
        while True:
            self._begin(now)
            if not self.working:
                break
            now = self.working[0][0]
            while self.working and self.working[0][0] == now:
                self._end(heapq.heappop(self.working)[1], now)
        assert not self.waiting, "nobody works and somebody waits"
        return Schedule(tuple(self.entries), now)

    def _begin(self, now: float) -> None:
        """Start whoever can, the first in rank first; a slot given up lets others start too."""
        again = True
        while again:
            again = False
            for line in sorted(self.waiting.values(), key=self.rank):
                task = self.jobs[line.student][line.at]
                if all(self._open(place, line.student) for place in task.needs):
                    again |= self._start(line, task, now)

    def _open(self, place: str, student: int) -> bool:
        return bool(self.free[place]) or (place == FORGE and student in self.held)

    def _start(self, line: Line, task: Task, now: float) -> bool:
        """Start a task; return whether an iron left the fire for it."""
        student = line.student
        del self.waiting[student]
        left_fire = student in self.held
        if left_fire:
            heapq.heappush(self.free[FORGE], self.held.pop(student))
            before = self.last[student]
            assert before is not None
            self.entries[before] = replace(self.entries[before], released=now)
        taken = tuple((place, heapq.heappop(self.free[place])) for place in task.needs)
        end = now + task.minutes
        self.last[student] = len(self.entries)
        self.entries.append(Entry(student, line.at, task, line.since, now, end, taken, end))
        heapq.heappush(self.working, (end, student))
        return left_fire

    def _end(self, student: int, now: float) -> None:
        line = self.lines[student]
        at = self.last[student]
        assert at is not None
        entry = self.entries[at]
        goes_on = line.at + 1 < len(self.jobs[student])
        for place, slot in entry.slots:
            if place == FORGE and self.holds and goes_on:
                self.held[student] = slot
            else:
                heapq.heappush(self.free[place], slot)
        line.left -= entry.task.minutes
        line.at += 1
        line.since = now
        if goes_on:
            self.waiting[student] = line
