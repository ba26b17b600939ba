"""The timetable of a class in words and rows: does it fit, what holds it up, what would change it."""

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
    Change,
    ClassShop,
    Entry,
    NoSchedule,
    Planned,
    StepTime,
    changes,
    most_pieces,
    most_students,
    plan,
)

LEAST_GAIN = 1.0  # minutes: less is not worth a line


def counted(count: int, noun: str) -> str:
    """Return "1 student" or "3 students"."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A change that would help: in words, the session then, what it saves, whether it fits."""

    words: str
    minutes: str
    saved: str
    fits: bool


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


class ClassPlan:
    """A planned class. `error` says why there is no plan; what needs one is empty then."""

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
            self.planned = tuple(plan(steps, shop, one) for one in (LOW, TYPICAL, HIGH))
        except NoSchedule as fault:
            self.error = str(fault)
            keys = {one.key: one.title for one in steps}
            self.error_step = keys.get(fault.task.step, "") if fault.task else ""

    # -- the answer ------------------------------------------------------------------------------

    @property
    def usual(self) -> Planned:
        """The typical plan, which the chart shows."""
        return self.planned[TYPICAL]

    def said(self, minutes: float) -> str:
        """Return a duration to the minute."""
        whole = floor(minutes + 0.5)
        return self.units.seconds(whole * 60) if whole else f"0{SPACE}min"

    @property
    def headline(self) -> str:
        """How long, and whether that fits: "8 students need about 2 h 5 min: 25 min too long"."""
        over = self.usual.minutes - self.shop.session
        who = counted(self.shop.students, "student")
        each = f"{counted(self.shop.pieces, 'piece')} each" if self.shop.pieces > 1 else "a piece each"
        need = "need" if self.shop.students > 1 else "needs"
        if self.usual.fits:
            spare = "no time to spare" if over > -1 else f"{self.said(-over)} to spare"
            end = f"which fits the session with {spare}"
        else:
            end = f"which is {self.said(over)} longer than the session"
        return f"{who}, {each}, {need} about {self.said(self.usual.minutes)}, {end}."

    @property
    def sure(self) -> str:
        """How sure that is."""
        low, _, high = self.planned
        span = f"{self.said(low.minutes)} if all goes well, {self.said(high.minutes)} if much does not"
        if high.fits:
            return f"{span}. Even that fits."
        if low.fits:
            return f"{span}. Plan for what can be left out or taken home."
        return f"{span}. Even if all goes well it does not fit."

    @property
    def level(self) -> str:
        """How it is to be taken: "note", "caution" or "stop"."""
        low, typical, high = self.planned
        return "note" if high.fits else "caution" if typical.fits or low.fits else "stop"

    @property
    def facts(self) -> list[tuple[str, str]]:
        """Its figures."""
        around = self.shop.showing + self.shop.clean_down
        limits = self.usual.bounds
        waits = sum(self.usual.waits.values()) / self.shop.students
        return [
            ("As planned", self.said(self.usual.minutes)),
            ("Nobody can do it in less than", self.said(limits.lower + around)),
            ("At worst, if nobody dawdles", self.said(limits.upper + around)),
            ("Each waits, in all", self.said(waits)),
        ]

    @property
    def bottleneck(self) -> str:
        """What holds the class up, in words."""
        place = self.usual.bottleneck
        own = self.said(self.usual.bounds.longest)
        if not place:
            return (
                f"Nothing in the shop holds the class up. One student alone would take {own}; in the class"
                f" each waits only {self.said(sum(self.usual.waits.values()) / self.shop.students)}."
            )
        load = self.said(self.usual.bounds.loads[place])
        waits = self.usual.waits.get(place, 0.0)
        share = self.units.percent(self.usual.use[place])
        count = self.shop.slots[place]
        whose = f"The work for it is {load}" if count == 1 else f"The work is {load} for each of them"
        waiting = f"Students wait {self.said(waits)} for it, all added up. " if waits >= 1 else ""
        return (
            f"{whose}: {share} of the time between showing and cleaning down. {waiting}"
            f"One student alone would take {own}."
        )

    @property
    def bottleneck_title(self) -> str:
        """Its name: "The power hammer holds the class up"."""
        place = self.usual.bottleneck
        if not place:
            return "The work itself takes the time"
        one, several = PLACES[place]
        return (
            f"The {one} holds the class up"
            if self.shop.slots[place] == 1
            else f"The {several} hold the class up"
        )

    # -- what to change --------------------------------------------------------------------------

    @cached_property
    def _changes(self) -> list[Change]:
        return changes(self.steps, self.shop, self.usual if self.planned else None)

    @property
    def changes(self) -> list[ChangeRow]:
        """What would help, the most saved first."""
        return [self._change(one) for one in self._changes if one.saved is None or one.saved >= LEAST_GAIN]

    @property
    def no_help(self) -> str:
        """What would not: "one more anvil, one more fire"."""
        idle = [one for one in self._changes if one.saved is not None and one.saved < LEAST_GAIN]
        return ", ".join(self._words(one) for one in idle)

    def _change(self, change: Change) -> ChangeRow:
        words = self._words(change)
        saved = "" if change.saved is None else self.said(change.saved)
        return ChangeRow(words[:1].upper() + words[1:], self.said(change.minutes), saved, change.fits)

    def _words(self, change: Change) -> str:
        if change.kind == "more":
            return (
                f"one more {PLACES[change.place][0]}"
                if self.shop.slots[change.place]
                else (f"one {PLACES[change.place][0]}")
            )
        if change.kind == "irons":
            return f"{change.shop.irons} irons in each fire"
        if change.kind == "pieces":
            return f"{counted(change.shop.pieces, 'piece')} each"
        return f"two groups of {change.shop.students}, each with a session of its own"

    @cached_property
    def holds(self) -> str:
        """How many the session holds."""
        if self.shop.forging <= 0:
            return "Showing and cleaning down leave nothing of the session to work in."
        if self.usual.fits:
            most = most_pieces(self.steps, self.shop)
            if most > self.shop.pieces:
                return f"There is time for {counted(most, 'piece')} each."
            return ""
        students = most_students(self.steps, self.shop)
        pieces = most_pieces(self.steps, self.shop, self.shop.pieces)
        found = []
        if students:
            found.append(f"for {counted(students, 'student')}")
        if pieces and pieces < self.shop.pieces:
            found.append(f"for {counted(pieces, 'piece')} each")
        if found:
            return f"The session is long enough {' or '.join(found)}."
        return "The session is too short for even one student: a longer one, or two."

    # -- rows ------------------------------------------------------------------------------------

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


@dataclass(frozen=True, slots=True)
class StudentRun:
    """One piece of one student: begin and end of each step by its place [min of the session]."""

    student: int
    piece: int
    times: dict[int, tuple[float, float]]
