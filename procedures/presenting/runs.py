"""A run as its owner and teacher see it: its log by step, in order, with the photos that they may see."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser

from procedures.engine.catalogue import find
from procedures.models import Run, RunEntry, RunPhoto

Visitor = AbstractBaseUser | AnonymousUser

WORDS = {
    "out": "Out of the fire",
    "gate_asked": "Asked the teacher to look",
    "done": "Done",
    "undone": "Not done yet",
    "piece": "Began another piece",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the log in words."""

    text: str
    entry: RunEntry
    photo: ShownRunPhoto | None = None


@dataclass(frozen=True, slots=True)
class ShownRunPhoto:
    """A photo of a run as a page shows it."""

    src: str
    srcset: str
    width: int
    height: int


@dataclass
class StepLog:
    """What was entered at one step."""

    number: int
    title: str
    heats: int = 0
    lines: list[Line] = field(default_factory=list)


def may_see_photo(user: Visitor, run: Run, entry: RunEntry) -> bool:
    """Whether who may see a run may see a photo in it: its maker, and others where the maker said so."""
    return entry.is_shared or (run.owner_id is not None and run.owner_id == user.pk)


def shown_run(run: Run, viewer: Visitor) -> list[StepLog]:
    """Return the log of a run by part and step, in the order of the procedure, as one may see it."""
    logs: dict[tuple[str, str], StepLog] = {}
    for part in (run.revision.document if run.revision else run.procedure.document)["parts"]:
        for number, step in enumerate(part.get("steps", ()), start=1):
            kind = find(step["operation"])
            title = kind.title if kind else step["operation"]
            logs[part["key"], step["key"]] = StepLog(number, title)
    for entry in in_order(run.entries.select_related("by", "photo")):
        title = "No step of this revision" if entry.step else "The whole piece"
        log = logs.setdefault((entry.part, entry.step), StepLog(entry.number, title))
        log.heats += {"heat": 1, "heat_undone": -1}.get(entry.kind, 0)
        if (text := words_of(entry)) is not None:
            log.lines.append(Line(text, entry, _photo(entry, run, viewer)))
    return [one for one in logs.values() if one.lines or one.heats]


def _photo(entry: RunEntry, run: Run, viewer: Visitor) -> ShownRunPhoto | None:
    photo: RunPhoto | None = getattr(entry, "photo", None)
    if photo is None or not may_see_photo(viewer, run, entry):
        return None
    middle = photo.widths[min(1, len(photo.widths) - 1)]
    srcset = ", ".join(f"{photo.url(width)} {width}w" for width in photo.widths)
    return ShownRunPhoto(photo.url(middle), srcset, photo.width, photo.height)


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
        return f"{what} of {data.get('branch', '')} measured: {', '.join(sizes)}{_planned(data)}"
    if entry.kind == "photo":
        return "Photo" if entry.is_shared else "Photo, for its maker alone"
    if entry.kind == "soak":
        return f"Soaked for {data.get('seconds', '?')} s"
    if entry.kind == "gate":
        if entry.by:
            return f"Gate signed by {entry.by.get_username()}"
        return f"Gate signed on this phone by {data.get('initials', 'nobody named')}"
    return WORDS.get(entry.kind)


def _planned(data: Mapping[str, Any]) -> str:
    """Return ", planned 152.4 mm" where the phone noted what the plan said."""
    planned = data.get("planned")
    if not isinstance(planned, Mapping):
        return ""
    said = [str(planned[name]) for name in ("length", "section") if data.get(name) and planned.get(name)]
    return f", planned {', '.join(said)}" if said else ""
