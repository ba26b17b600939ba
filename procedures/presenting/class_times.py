"""The times of a planned class: when each student begins and ends each step, by the clock or from 0:00."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from math import floor

from calculators.number_texts import SPACE
from calculators.wording import UnitSystem
from procedures.timetable import (
    HIGH,
    LOW,
    PLACES,
    TYPICAL,
    ClassShop,
    Entry,
    NoSchedule,
    Planned,
    StepTime,
    plan,
)

NO_BREAK = "\N{NO-BREAK SPACE}"
FEW = 2500  # tasks tried for the ends of the range, which are as unsure as they are


def counted(count: int, noun: str) -> str:
    """Return "1 student" or "3 students"."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step as the class takes it."""

    number: int
    title: str
    where: str
    heats: str
    fire: str
    work: str
    gate: str


@dataclass(frozen=True, slots=True)
class StudentRun:
    """One piece of one student: begin and end of each step by its place [min of the session]."""

    student: int
    piece: int
    times: dict[int, tuple[float, float]]


class TimedClass:
    """A planned class. `error` says why there is no plan; what needs one cannot be asked for then."""

    def __init__(
        self,
        steps: Sequence[StepTime],
        shop: ClassShop,
        units: UnitSystem,
        begins: datetime | None = None,
    ) -> None:
        self.steps = tuple(steps)
        self.shop = shop
        self.units = units
        self.begins = begins
        self.error = ""
        self.error_step = ""
        self.planned: tuple[Planned, ...] = ()
        try:
            low, high = (plan(steps, shop, one, placed=FEW) for one in (LOW, HIGH))
            self.planned = (low, plan(steps, shop, TYPICAL), high)
        except NoSchedule as fault:
            self.error = str(fault)
            keys = {one.key: one.title for one in steps}
            self.error_step = keys.get(fault.task.step, "") if fault.task else ""

    @property
    def usual(self) -> Planned:
        """The typical plan, which the chart shows."""
        return self.planned[TYPICAL]

    def said(self, minutes: float) -> str:
        """Return a duration to the minute."""
        whole = floor(minutes + 0.5)
        return self.units.seconds(whole * 60).replace(" ", NO_BREAK) if whole else f"0{SPACE}min"

    def clock(self, minutes: float) -> str:
        """Return a time of the session [min from its beginning], by the clock where it has one."""
        whole = floor(minutes + 0.5)
        if self.begins:
            return (self.begins + timedelta(minutes=whole)).strftime("%H:%M")
        return f"{whole // 60}:{whole % 60:02d}"

    @property
    def step_rows(self) -> list[StepRow]:
        """The steps as they are reckoned with, typically."""
        return [
            StepRow(
                number,
                one.title,
                ", ".join(
                    [PLACES[one.place][0] if one.place else "bench", *(["helper"] if one.helper else [])]
                ),
                str(one.heats[TYPICAL]) if one.heats[TYPICAL] else "",
                self._minutes(one.fire[TYPICAL]),
                self._minutes(one.work[TYPICAL]),
                one.gate,
            )
            for number, one in enumerate(self.steps, start=1)
        ]

    def _minutes(self, minutes: float) -> str:
        return f"{minutes:.1f}" if minutes else ""

    @cached_property
    def runs(self) -> list[StudentRun]:
        """Each piece of each student: when its steps begin and end, from the session's beginning [min]."""
        found: dict[tuple[int, int], dict[int, list[float]]] = {}
        for entry, at in self.placed():
            times = found.setdefault((entry.student, entry.task.piece), {})
            span = times.setdefault(at, [entry.start, entry.end])
            span[1] = max(span[1], entry.end)
        showing = self.shop.showing
        return [
            StudentRun(
                student + 1,
                piece,
                {at: (begin + showing, end + showing) for at, (begin, end) in times.items()},
            )
            for (student, piece), times in sorted(found.items())
        ]

    def placed(self) -> Iterator[tuple[Entry, int]]:
        """Yield each turn of the typical plan with the place of its step in `steps`."""
        index = self._step_of_task
        for entry in self.usual.schedule.entries:
            yield entry, index[entry.index]

    @cached_property
    def _step_of_task(self) -> list[int]:
        """The step of each task of a student: parts made several times have steps of one key."""
        found: list[int] = []
        for piece in range(1, self.shop.pieces + 1):
            for at, step in enumerate(self.steps):
                found += [at] * len(step.tasks(TYPICAL, self.shop.look, piece))
        return found

    def cells(self, run: StudentRun) -> list[str]:
        """Return when each step begins, by the clock; "" where a step takes no time."""
        return [self.clock(run.times[at][0]) if at in run.times else "" for at in range(len(self.steps))]

    @property
    def rows(self) -> list[tuple[str, list[str], str]]:
        """A line for each piece of each student: who, when each step begins, when it is done."""
        found = []
        for run in self.runs:
            who = f"{run.student}" if self.shop.pieces == 1 else f"{run.student}, piece {run.piece}"
            ends = max(end for _, end in run.times.values())
            found.append((who, self.cells(run), self.clock(ends)))
        return found
