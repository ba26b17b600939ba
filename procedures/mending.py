"""Applying a mend to a stored document; like editing, it touches no database."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from . import editing
from .editing import Stored
from .engine.catalogue import find
from .engine.mend import Change, InsertStep, Mend, MoveStep, SetStep


def mended(document: Mapping[str, Any], part: str, mend: Mend) -> Stored:
    """Return the document with all changes of a mend made in one part. Raises NoSuchPlace and TooMany."""
    changed = dict(document)
    for change in mend.changes:
        changed = _changed(changed, part, change)
    return changed


def _changed(document: Stored, part: str, change: Change) -> Stored:
    match change:
        case MoveStep():
            return _moved(document, part, change)
        case InsertStep():
            return _inserted(document, part, change)
        case SetStep():
            return editing.with_step(document, part, change.step, lambda one: _set(one, change))


def _moved(document: Stored, part: str, change: MoveStep) -> Stored:
    here = editing.step_index(document, part, change.step)
    there = editing.step_index(document, part, change.other)
    if here < there:
        there -= 1  # what the step leaves behind moves up
    index = there if change.side == "before" else there + 1
    return editing.with_step_moved(document, part, change.step, index)


def _inserted(document: Stored, part: str, change: InsertStep) -> Stored:
    kind = find(change.operation)
    version = kind.version if kind else 1
    step = editing.new_step(document, part, change.operation, version, change.heats)
    step["params"] = dict(change.params)
    after: str | None = change.other
    if change.side == "before":
        index = editing.step_index(document, part, change.other)
        steps = editing.part_of(document, part)["steps"]
        after = steps[index - 1]["key"] if index else None
    return editing.with_step_after(document, part, step, after)


def _set(step: Stored, change: SetStep) -> Stored:
    kind = find(step["operation"])
    params = step.get("params", {})
    if change.params:
        params = editing.mended(params, change.params, kind.one_of if kind else ())
    return {**step, **change.fields, "params": params}
