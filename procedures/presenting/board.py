"""The board of a class: each student's step, heats, gates and measures, as the phones sent them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from calculators import typed
from calculators.sections import Section
from calculators.typed import TypedError
from calculators.wording import UNIT_SYSTEMS, UnitSystem
from procedures.engine.document import read
from procedures.engine.frames import Frame, PartReplay, Replay
from procedures.engine.replan import Gauge, gauges, near
from procedures.engine.replay import replay
from procedures.models import Assignment, Run, RunEntry

from .runs import in_order

OFF = 0.05  # of a section's size: what a calliper and a hammer differ by; common practice, no source


@dataclass(frozen=True, slots=True)
class Waiting:
    """A gate that a student waits at."""

    run: Run
    part: str
    step: str
    number: int
    title: str


@dataclass(frozen=True, slots=True)
class Place:
    """One student on the board."""

    run: Run
    name: str
    where: str
    share: int  # of the steps, in percent
    heats: int
    waiting: Waiting | None
    off: list[str]
    notes: list[str]
    seen: datetime


@dataclass(frozen=True, slots=True)
class Work:
    """One procedure of a class, with who is where in it."""

    assignment: Assignment
    places: list[Place]


@dataclass(frozen=True, slots=True)
class Progress:
    """One student: for each procedure the place, or None where nothing came in."""

    name: str
    places: list[Place | None]


@dataclass(frozen=True, slots=True)
class Board:
    """A whole class."""

    works: list[Work]

    @property
    def is_empty(self) -> bool:
        """Whether nobody has joined yet."""
        return not any(one.places for one in self.works)

    @property
    def progress(self) -> list[Progress]:
        """The students by the name they typed, each with the latest place in every procedure."""
        names: dict[str, str] = {}
        latest: dict[tuple[str, int], Place] = {}
        for column, work in enumerate(self.works):
            for place in work.places:
                key = place.name.casefold()
                names.setdefault(key, place.name)
                latest[key, column] = place
        columns = range(len(self.works))
        return [
            Progress(name, [latest.get((key, one)) for one in columns]) for key, name in sorted(names.items())
        ]


def board(assignments: Iterable[Assignment], runs: Iterable[Run], units: UnitSystem) -> Board:
    """Return who is where in what is assigned, the last to arrive last."""
    by_procedure: dict[int, list[Run]] = {}
    for run in runs:
        by_procedure.setdefault(run.procedure_id, []).append(run)
    return Board([_work(one, by_procedure.get(one.procedure_id, []), units) for one in assignments])


def _work(assignment: Assignment, runs: Sequence[Run], units: UnitSystem) -> Work:
    document = read(assignment.revision.document, draft=True)
    plans = {nominal: replay(document, nominal=nominal) for nominal in {one.nominal for one in runs}}
    return Work(assignment, [_place(one, plans[one.nominal], units) for one in runs])


def _place(run: Run, replayed: Replay, units: UnitSystem) -> Place:
    frames = {(part.part.key, one.key): one for part in replayed.parts for one in part.frames}
    order = list(frames)
    entries = in_order(run.entries.all())
    own = [one for one in entries if one.n is not None and (one.part, one.step) in frames]
    last = own[-1] if own else None
    at = order.index((last.part, last.step)) + 1 if last else 0
    where = _where(last, frames, replayed) if last else "Before the first step"
    endings = [one.kind for one in entries if one.kind in ("done", "undone")]
    done = bool(run.ended or endings[-1:] == ["done"])
    return Place(
        run=run,
        name=run.name or "No name given",
        where="Done" if done else where,
        share=100 if done else round(100 * max(at - 1, 0) / max(len(order), 1)),
        heats=sum({"heat": 1, "heat_undone": -1}.get(one.kind, 0) for one in entries),
        waiting=_waiting(run, entries, frames),
        off=_off(own, frames, UNIT_SYSTEMS.get(run.units, units), units),
        notes=[str(one.data.get("text", ""))[:200] for one in own if one.kind in ("note", "chip")][-2:],
        seen=max((one.received for one in entries), default=run.received),
    )


def _where(entry: RunEntry, frames: Mapping[tuple[str, str], Frame], replayed: Replay) -> str:
    frame = frames[entry.part, entry.step]
    several = f" of {_part(replayed, entry.part).part.name}" if len(replayed.parts) > 1 else ""
    return f"Step {frame.number}{several}, {frame.title}"


def _part(replayed: Replay, key: str) -> PartReplay:
    return next(one for one in replayed.parts if one.part.key == key)


def _waiting(
    run: Run, entries: Sequence[RunEntry], frames: Mapping[tuple[str, str], Frame]
) -> Waiting | None:
    """Return the last gate asked for that is not signed."""
    signed = {(one.part, one.step) for one in entries if one.kind == "gate"}
    asked = [one for one in entries if one.kind == "gate_asked" and (one.part, one.step) in frames]
    for one in reversed(asked):
        if (one.part, one.step) not in signed:
            return Waiting(run, one.part, one.step, one.number, frames[one.part, one.step].title)
    return None


def _off(
    entries: Sequence[RunEntry],
    frames: Mapping[tuple[str, str], Frame],
    typed_in: UnitSystem,
    units: UnitSystem,
) -> list[str]:
    """Return the measures that are off, the last of each thing measured."""
    last: dict[tuple[str, ...], RunEntry] = {}
    for one in entries:
        if one.kind == "measured":
            last[one.part, one.step, str(one.data.get("what")), str(one.data.get("branch"))] = one
    found = []
    for (part, step, what, branch), entry in last.items():
        frame = frames[part, step]
        for gauge in gauges(frame):
            if (gauge.kind, gauge.branch) == (what, branch):
                found += _differences(frame, gauge, entry.data, typed_in, units)
    return found


def _differences(
    frame: Frame, gauge: Gauge, data: Mapping[str, Any], typed_in: UnitSystem, units: UnitSystem
) -> list[str]:
    found = []
    try:
        if data.get("length"):
            length = typed.parse_length(str(data["length"]), typed_in.length_unit)
            if abs(length - gauge.length) > near(gauge.length):
                found.append(
                    f"Step {frame.number}: {units.length(length)}, planned {units.length(gauge.length)}"
                )
        if data.get("section") and gauge.section:
            section = typed.parse_section(str(data["section"]), typed_in.length_unit)
            if _is_off(section, gauge.section):
                found.append(
                    f"Step {frame.number}: {units.section(section)}, planned {units.section(gauge.section)}"
                )
    except TypedError:
        found.append(f"Step {frame.number}: a measure that does not read")
    return found


def _is_off(section: Section, planned: Section) -> bool:
    pairs = (section.width, planned.width), (section.thickness, planned.thickness)
    return any(abs(one - other) > OFF * other for one, other in pairs)
