"""The timetable of a class in words: does it fit, what holds it up, what would change it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from calculators.number_texts import SPACE
from procedures.timetable import (
    ANVIL,
    HELPER,
    PLACES,
    POWER,
    TEACHER,
    VICE,
    Change,
    changes,
    most_pieces,
    most_students,
)

from .class_times import TimedClass, counted

LEAST_GAIN = 1.0  # minutes: less is not worth a line


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A change that would help: in words, the session then, what it saves, whether it fits."""

    words: str
    minutes: str
    saved: str
    fits: bool


class ClassPlan(TimedClass):
    """A planned class in words. Where it has an `error`, only that and `changes` can be asked for."""

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
    def reckoned(self) -> str:
        """What it was reckoned for: "8 students, 2 pieces each, at 4 fires with 2 irons in each, ..."."""
        shop = self.shop
        irons = f" with {shop.irons} irons in each" if shop.irons > 1 else ""
        there = [
            f"{counted(shop.forges, 'fire')}{irons}",
            *(
                counted(shop.slots[place], PLACES[place][0])
                for place in (ANVIL, VICE, POWER, HELPER, TEACHER)
                if shop.slots[place]
            ),
        ]
        who = f"{counted(shop.students, 'student')}, {counted(shop.pieces, 'piece')} each"
        return (
            f"{who}, in {self.said(shop.session)} with {self.said(shop.showing)} of showing and"
            f" {self.said(shop.clean_down)} of cleaning down; {', '.join(there)}."
        )

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
        share = f"{self.usual.use[place]:.0%}".replace("%", f"{SPACE}%")
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
