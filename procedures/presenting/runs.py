"""A run as its owner and teacher see it: its log by step, in order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from procedures.engine.catalogue import find
from procedures.models import Run, RunEntry

WORDS = {
    "out": "Out of the fire",
    "gate_asked": "Asked the teacher to look",
    "done": "Done",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the log in words."""

    text: str
    entry: RunEntry


@dataclass
class StepLog:
    """What was entered at one step."""

    number: int
    title: str
    heats: int = 0
    lines: list[Line] = field(default_factory=list)


def shown_run(run: Run) -> list[StepLog]:
    """Return the log of a run by part and step, in the order of the procedure."""
    logs: dict[tuple[str, str], StepLog] = {}
    for part in (run.revision.document if run.revision else run.procedure.document)["parts"]:
        for number, step in enumerate(part.get("steps", ()), start=1):
            kind = find(step["operation"])
            title = kind.title if kind else step["operation"]
            logs[part["key"], step["key"]] = StepLog(number, title)
    for entry in in_order(run.entries.all()):
        log = logs.setdefault((entry.part, entry.step), StepLog(entry.number, "No step of this revision"))
        log.heats += {"heat": 1, "heat_undone": -1}.get(entry.kind, 0)
        if (text := words_of(entry)) is not None:
            log.lines.append(Line(text, entry))
    return [one for one in logs.values() if one.lines or one.heats]


def in_order(entries: Iterable[RunEntry]) -> list[RunEntry]:
    """Return entries as the phone made them; the teacher's own come where they arrived."""
    return sorted(entries, key=lambda one: (one.n is None, one.n or 0, one.received))


def words_of(entry: RunEntry) -> str | None:
    """Return what an entry says, or None where it is counted and not told."""
    data = entry.data if isinstance(entry.data, dict) else {}
    if entry.kind in ("note", "chip"):
        return str(data.get("text", ""))
    if entry.kind == "measured":
        sizes = [str(data[name]) for name in ("length", "section") if data.get(name)]
        what = "Whole length" if data.get("what") == "whole" else "Worked part"
        return f"{what} of {data.get('branch', '')} measured: {', '.join(sizes)}"
    if entry.kind == "soak":
        return f"Soaked for {data.get('seconds', '?')} s"
    if entry.kind == "gate":
        if entry.by:
            return f"Gate signed by {entry.by.get_username()}"
        return f"Gate signed on this phone by {data.get('initials', 'nobody named')}"
    return WORDS.get(entry.kind)
