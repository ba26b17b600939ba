"""What a class is made of: places with so many slots, and each student's tasks in their order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

FORGE = "forge"  # a slot is an iron in a fire
ANVIL = "anvil"
VICE = "vice"
POWER = "power_hammer"
HELPER = "helper"
TEACHER = "teacher"
PLACES: Mapping[str, tuple[str, str]] = {  # one and several
    FORGE: ("fire", "fires"),
    ANVIL: ("anvil", "anvils"),
    VICE: ("vice", "vices"),
    POWER: ("power hammer", "power hammers"),
    HELPER: ("helper", "helpers"),
    TEACHER: ("teacher", "teachers"),
}


class NoSchedule(ValueError):
    """No schedule is possible: the message says why, `place` what is missing, `task` for what."""

    def __init__(self, message: str, place: str = "", task: Task | None = None) -> None:
        self.place = place
        self.task = task
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Task:
    """Minutes that a student spends with one slot of each place in `needs` at once; none is their own bench.

    `step` and `piece` say what of, `what` is "heat", "work" or "look".
    """

    needs: tuple[str, ...]
    minutes: float
    what: str = "work"
    step: str = ""
    piece: int = 1


Job = Sequence[Task]


def own_minutes(job: Job) -> float:
    """Return what a student would need alone in the shop [min]."""
    return sum(one.minutes for one in job)


def check_places(jobs: Sequence[Job], slots: Mapping[str, int]) -> None:
    """Raise NoSchedule where somebody needs what the shop has none of."""
    for job in jobs:
        for task in job:
            for place in task.needs:
                if slots.get(place, 0) < 1:
                    title = PLACES.get(place, (place, place))[0]
                    raise NoSchedule(f"There is no {title}, and the work needs one.", place, task)
