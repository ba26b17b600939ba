"""A class in a shop: what each student does of a procedure, and the plan of the session."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from .bettering import PLACED, best_schedule
from .bounds import Bounds, bounds
from .scheduling import Entry, Schedule
from .tasks import ANVIL, FORGE, HELPER, POWER, TEACHER, VICE, Job, NoSchedule, Task

LOW, TYPICAL, HIGH = range(3)
MOST_TASKS = 8000  # of a class: more takes longer to plan than anybody waits
Minutes = tuple[float, float, float]  # low, typical, high


@dataclass(frozen=True, slots=True)
class StepTime:
    """One step for one piece: how many heats, minutes in the fire and of work in each, and where.

    `heats` and the minutes are low, typical and high. Without heats `work` is all of it. `place` is a place,
    or "" for the student's own bench. After it the teacher looks where `gate` says what at.
    """

    key: str
    title: str
    heats: tuple[int, int, int]
    fire: Minutes
    work: Minutes
    place: str = ANVIL
    helper: bool = False
    gate: str = ""

    def tasks(self, estimate: int, look: float, piece: int) -> list[Task]:
        """Return its tasks at an estimate; `look` is how long the teacher takes at a gate [min]."""
        needs = tuple(one for one in (self.place, HELPER if self.helper else "") if one)
        work = Task(needs, self.work[estimate], "work", self.key, piece)
        found: list[Task] = []
        for _ in range(self.heats[estimate]):
            found += [Task((FORGE,), self.fire[estimate], "heat", self.key, piece), work]
        if not found and work.minutes > 0:
            found.append(work)
        if self.gate and look > 0:
            found.append(Task((TEACHER,), look, "look", self.key, piece))
        return found


@dataclass(frozen=True, slots=True)
class ClassShop:
    """Who comes, and what there is for them. Minutes of the session, of showing and of cleaning down.

    `irons` go in a fire at once. `look` is how long the teacher takes at a gate [min]. With `holds` an iron
    stays in the fire until its smith has an anvil.
    """

    students: int = 8
    pieces: int = 1
    forges: int = 4
    irons: int = 2
    anvils: int = 4
    vices: int = 4
    power_hammers: int = 0
    helpers: int = 0
    teachers: int = 1
    session: float = 180.0
    showing: float = 20.0
    clean_down: float = 15.0
    look: float = 1.0
    holds: bool = True

    @property
    def slots(self) -> Mapping[str, int]:
        """How many can be at each place at once."""
        return {
            FORGE: self.forges * self.irons,
            ANVIL: self.anvils,
            VICE: self.vices,
            POWER: self.power_hammers,
            HELPER: self.helpers,
            TEACHER: self.teachers,
        }

    @property
    def forging(self) -> float:
        """What the session leaves for work [min]; 0 or less where nothing is left."""
        return self.session - self.showing - self.clean_down


@dataclass(frozen=True)
class Planned:
    """A class at one estimate: its bounds and its schedule, both without showing and cleaning down."""

    shop: ClassShop
    bounds: Bounds
    schedule: Schedule

    @property
    def minutes(self) -> float:
        """The whole session as it is planned [min]."""
        return self.shop.showing + self.schedule.minutes + self.shop.clean_down

    @property
    def fits(self) -> bool:
        """Whether it ends within the session."""
        return self.minutes <= self.shop.session + 1e-9

    @cached_property
    def waits(self) -> Mapping[str, float]:
        """Minutes that students wait, all together, for each place; for several at once, the tightest."""
        found: dict[str, float] = {}
        for entry in self.schedule.entries:
            if entry.waited > 0 and entry.task.needs:
                place = max(entry.task.needs, key=lambda one: self.bounds.loads[one])
                found[place] = found.get(place, 0.0) + entry.waited
        return found

    @cached_property
    def use(self) -> Mapping[str, float]:
        """The share of the time that the slots of each place are at work."""
        length = self.schedule.minutes
        return {place: load / length for place, load in self.bounds.loads.items()} if length else {}

    @property
    def bottleneck(self) -> str:
        """The place that holds the class up; "" where it is the work itself and nobody waits much."""
        if self.schedule.minutes <= self.bounds.longest * _NEARLY:
            return ""
        return self.bounds.tightest

    def of_student(self, student: int) -> list[Entry]:
        """Return what a student does, in order."""
        return [one for one in self.schedule.entries if one.student == student]


_NEARLY = 1.05


def jobs_of(steps: Sequence[StepTime], shop: ClassShop, estimate: int) -> list[Job]:
    """Return each student's tasks: all their pieces, one after another. Raises NoSchedule."""
    if shop.students < 1 or shop.pieces < 1:
        raise NoSchedule("Nobody is there, or nothing is to be made.")
    job: list[Task] = []
    for piece in range(1, shop.pieces + 1):
        for step in steps:
            job += step.tasks(estimate, shop.look, piece)
    if not job:
        raise NoSchedule("No step of this procedure takes any time, so there is nothing to plan.")
    if len(job) * shop.students > MOST_TASKS:
        most = MOST_TASKS // len(job)
        raise NoSchedule(
            f"{shop.students} students with {len(job)} turns each are more than is planned at once: "
            + (f"take at most {most} students, or fewer pieces each." if most else "take fewer pieces each.")
        )
    return [job] * shop.students


def plan(
    steps: Sequence[StepTime], shop: ClassShop, estimate: int = TYPICAL, placed: int = PLACED
) -> Planned:
    """Return the plan of a class at an estimate. Raises NoSchedule."""
    jobs = jobs_of(steps, shop, estimate)
    slots = shop.slots
    return Planned(shop, bounds(jobs, slots), best_schedule(jobs, slots, holds=shop.holds, placed=placed))
