"""Changes of the steps of a draft."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing
from procedures.editing import NoSuchPlace, Stored
from procedures.engine.catalogue import find
from procedures.models import Procedure

from .saving import Change, EditConflict, Refused, altered, last_edit, locked, save


@transaction.atomic
def edit_step(
    *,
    procedure: Procedure,
    part: str,
    step: str,
    fields: Mapping[str, Any],
    base: str,
    by: AbstractBaseUser,
) -> Procedure:
    """Exchange these stored fields of a step; None takes one away. Photos are not among them.

    Raises EditConflict if the step changed since `base`, the digest that editing.step_digest gave then; and
    Refused.
    """
    found = locked(procedure)
    try:
        present = editing.step_of(found.document, part, step)
    except NoSuchPlace as error:
        raise EditConflict({"key": step, **_given(fields)}, None, last_edit(found)) from error
    mine = _given({**present, **fields})
    if base != editing.step_digest(present):
        if editing.step_digest(mine) == editing.step_digest(present):
            return found  # both windows came to the same
        raise EditConflict(mine, present, last_edit(found))
    document = altered(found.document, lambda one: editing.with_step(one, part, step, lambda _: mine))
    save(found, document, _step_change(present, mine, part), by)
    return found


@transaction.atomic
def insert_step(
    *, procedure: Procedure, part: str, operation: str, after: str | None, by: AbstractBaseUser
) -> tuple[Procedure, str]:
    """Put a new step after another, or first. Returns the procedure and the step's key. Raises Refused."""
    kind = find(operation)
    if kind is None:
        raise Refused(f"There is no operation called {operation!r}.")
    found = locked(procedure)
    heats = kind.usual_heats[1]
    step: Stored = {}

    def alter(document: Mapping[str, Any]) -> Stored:
        step.update(editing.new_step(document, part, kind.id, kind.version, heats))
        if kind.usual_welding_heats:
            step["welding_heats"] = kind.usual_welding_heats
        return editing.with_step_after(document, part, step, after)

    document = altered(found.document, alter)
    save(found, document, Change(f"Insert: {kind.title}", part=part, step=step["key"]), by)
    return found, step["key"]


@transaction.atomic
def restore_step(
    *, procedure: Procedure, part: str, step: Mapping[str, Any], by: AbstractBaseUser
) -> tuple[Procedure, str]:
    """Put a step that was deleted meanwhile at the end of its part. Raises Refused."""
    found = locked(procedure)
    keys: list[str] = []

    def alter(document: Mapping[str, Any]) -> Stored:
        keys.extend(one["key"] for one in editing.part_of(document, part)["steps"])
        new = {**step, "key": editing.free_key(step["key"], keys)}
        keys.append(new["key"])
        return editing.with_step_after(document, part, new, keys[-2] if len(keys) > 1 else None)

    document = altered(found.document, alter)
    save(found, document, Change(f"Put back: {_title(step)}", part=part, step=keys[-1]), by)
    return found, keys[-1]


@transaction.atomic
def move_step(*, procedure: Procedure, part: str, step: str, to: int, by: AbstractBaseUser) -> Procedure:
    """Put a step at another place in its part, 0 the first. Raises Refused."""
    return _changed(
        procedure, "Move", part, step, lambda one: editing.with_step_moved(one, part, step, to), by
    )


@transaction.atomic
def duplicate_step(
    *, procedure: Procedure, part: str, step: str, by: AbstractBaseUser
) -> tuple[Procedure, str]:
    """Put a copy of a step after it. Returns the procedure and the copy's key. Raises Refused."""
    copies: list[str] = []

    def alter(document: Mapping[str, Any]) -> Stored:
        changed, key = editing.with_step_twice(document, part, step)
        copies.append(key)
        return changed

    return _changed(procedure, "Duplicate", part, step, alter, by), copies[0]


@transaction.atomic
def delete_step(*, procedure: Procedure, part: str, step: str, by: AbstractBaseUser) -> Procedure:
    """Take a step out of its part; undo brings it back. Raises Refused."""
    return _changed(procedure, "Delete", part, step, lambda one: editing.without_step(one, part, step), by)


def _changed(
    procedure: Procedure,
    verb: str,
    part: str,
    step: str,
    alter: Callable[[Mapping[str, Any]], Stored],
    by: AbstractBaseUser,
) -> Procedure:
    found = locked(procedure)
    document = altered(found.document, alter)
    title = _title(editing.step_of(found.document, part, step))
    save(found, document, Change(f"{verb}: {title}", part=part, step=step), by)
    return found


def _given(step: Mapping[str, Any]) -> Stored:
    return {key: value for key, value in step.items() if value is not None}


def _title(step: Mapping[str, Any]) -> str:
    kind = find(step["operation"]) if "operation" in step else None
    return kind.title if kind else str(step.get("operation", "a step"))


def _step_change(before: Mapping[str, Any], after: Mapping[str, Any], part: str) -> Change:
    """Return what an edit of a step is called: by the one value that changed, or all of them."""
    kind = find(before["operation"])
    names = []
    for key in sorted({*before["params"], *after["params"]}):
        if before["params"].get(key) != after["params"].get(key):
            param = kind.params().get(key) if kind else None
            names.append((f"params.{key}", param.label if param else key))
    others = sorted({*before, *after} - {"params"})
    names += [(key, key.replace("_", " ")) for key in others if before.get(key) != after.get(key)]
    label = ", ".join(name.lower() for _, name in names) or "nothing"
    place = "+".join(key for key, _ in names)
    step = before["key"]
    return Change(f"{_title(before)}: {label}", f"{part}/{step}/{place}", part, step)
