"""A timetable as files: every turn as CSV, the session and its steps as a calendar."""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from typing import TYPE_CHECKING

from procedures.timetable import PLACES

from .class_plan import ClassPlan

if TYPE_CHECKING:
    from icalendar import Event

_HEAD = (
    "student", "piece", "step", "title", "what", "place", "begins_min", "ends_min", "begins", "ends",
)  # fmt: skip
_WHAT = {"heat": "in the fire", "work": "work", "look": "the teacher looks"}


class NoBeginning(ValueError):
    """A calendar needs the day and the hour that the session begins."""


def turns_csv(plan: ClassPlan) -> str:
    """Return a row for every turn, in order: minutes from the beginning of the session."""
    file = io.StringIO()
    rows = csv.writer(file)
    rows.writerow(_HEAD)
    showing = plan.shop.showing
    for entry, at in sorted(plan.placed(), key=lambda one: (one[0].start, one[0].student)):
        places = [
            f"{PLACES[place][0]} {slot + 1}" if plan.shop.slots[place] > 1 else PLACES[place][0]
            for place, slot in entry.slots
        ]
        begins, ends = entry.start + showing, entry.end + showing
        rows.writerow(
            [
                entry.student + 1,
                entry.task.piece,
                at + 1,
                plan.steps[at].title,
                _WHAT[entry.task.what],
                " and ".join(places) or "bench",
                f"{begins:.2f}",
                f"{ends:.2f}",
                plan.clock(begins),
                plan.clock(ends),
            ]
        )
    return file.getvalue()


def calendar(plan: ClassPlan, title: str, url: str, made: datetime | None = None) -> bytes:
    """Return the session as an iCalendar: showing, each step while anybody is at it, cleaning down.

    Times are those of the wall's clock, of no zone. Raises NoBeginning.
    """
    if plan.begins is None:
        raise NoBeginning("Say when the session begins: a calendar needs the day and the hour.")
    from icalendar import Calendar  # slow to import, and most requests make none

    found = Calendar()
    found.add("prodid", "-//forgesite//class timetable//EN")
    found.add("version", "2.0")
    stamp = made or datetime.now(UTC)
    usual = plan.usual
    events = [(title, 0.0, usual.minutes, plan.headline)]
    if plan.shop.showing:
        events.append((f"{title}: showing", 0.0, plan.shop.showing, "Everybody watches."))
    for at, step in enumerate(plan.steps):
        spans = [run.times[at] for run in plan.runs if at in run.times]
        if spans:
            begin, end = min(one for one, _ in spans), max(one for _, one in spans)
            told = f"From the first student's beginning to the last one's end. {step.gate}".strip()
            events.append((f"{title}: {at + 1}. {step.title}", begin, end, told))
    if plan.shop.clean_down:
        begin = usual.minutes - plan.shop.clean_down
        events.append((f"{title}: cleaning down", begin, usual.minutes, "Everybody helps."))
    for number, (name, begin, end, told) in enumerate(events):
        found.add_component(_event(plan.begins, name, begin, end, told, url, stamp, number))
    return found.to_ical()


def _event(
    begins: datetime, name: str, begin: float, end: float, told: str, url: str, stamp: datetime, number: int
) -> Event:
    from icalendar import Event

    event = Event()
    event.add("uid", f"{sha256(f'{url} {begins} {number}'.encode()).hexdigest()[:24]}@forgesite")
    event.add("dtstamp", stamp)
    event.add("summary", name)
    event.add("dtstart", begins + timedelta(minutes=round(begin)))
    event.add("dtend", begins + timedelta(minutes=max(round(end), round(begin) + 1)))
    event.add("description", told)
    event.add("url", url)
    return event
