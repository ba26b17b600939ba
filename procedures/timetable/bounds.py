"""How long a class must take, and cannot take longer than, whoever goes first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .tasks import Job, check_places, own_minutes


@dataclass(frozen=True, slots=True)
class Bounds:
    """What no schedule beats, and what none without needless idling exceeds [min].

    `longest` is the longest of the students' own minutes. `loads` are the minutes of work for each slot of a
    place, `spans` the same with the least time before anybody can be there and after anybody has left.
    """

    longest: float
    loads: Mapping[str, float]
    spans: Mapping[str, float]
    total: float

    @property
    def plain(self) -> float:
        """The longest of the students' own minutes and of the loads."""
        return max([self.longest, *self.loads.values()])

    @property
    def lower(self) -> float:
        """What no schedule beats."""
        return max([self.longest, *self.spans.values()])

    @property
    def upper(self) -> float:
        """What no schedule exceeds that lets nobody wait for what is free.

        Whoever ends last is at work, or waits while every slot of some place is at work. That holds too while
        irons keep their slot in the fire: their smiths wait for a place that is at work. And somebody is
        always at work, so that it is never more than all of it one after another.
        """
        return min(self.longest + sum(self.loads.values()), self.total)

    @property
    def tightest(self) -> str:
        """The place with the most work for a slot; "" where the work needs none."""
        return max(self.loads, key=lambda one: self.loads[one], default="")


def bounds(jobs: Sequence[Job], slots: Mapping[str, int]) -> Bounds:
    """Return the bounds of a class. Raises NoSchedule."""
    check_places(jobs, slots)
    work: dict[str, float] = {}
    heads: dict[str, float] = {}
    tails: dict[str, float] = {}
    for job in jobs:
        _note_first(job, heads)
        _note_first(job[::-1], tails)
        for task in job:
            for place in task.needs:
                work[place] = work.get(place, 0.0) + task.minutes
    loads = {place: minutes / slots[place] for place, minutes in work.items()}
    own = [own_minutes(one) for one in jobs]
    return Bounds(
        longest=max(own, default=0.0),
        loads=loads,
        spans={place: heads[place] + load + tails[place] for place, load in loads.items()},
        total=sum(own),
    )


def _note_first(job: Job, least: dict[str, float]) -> None:
    """Keep the least time before a place is first needed."""
    passed = 0.0
    seen = set()
    for task in job:
        for place in task.needs:
            if place not in seen:
                seen.add(place)
                least[place] = min(least.get(place, passed), passed)
        passed += task.minutes


def cycle_minutes(students: int, heats: int, fire: float, work: float, irons: int, anvils: int) -> float:
    """Return the least minutes of a class whose students all go round fire and anvil `heats` times.

    heats × max(fire + work, students × fire / irons, students × work / anvils)
    """
    return heats * max(fire + work, students * fire / irons, students * work / anvils)
