"""Changes of the record of an original: what it is, what was measured on it, which sources there are."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing
from procedures.editing import Stored
from procedures.models import Procedure

from .saving import Change, EditConflict, Refused, altered, last_edit, locked, save

Kind = Literal["measurements", "references"]
LISTS: dict[Kind, str] = {"measurements": "m", "references": "s"}  # and what its keys begin with
WORDS: dict[Kind, str] = {"measurements": "measurement", "references": "source"}


def identity_of(document: Mapping[str, Any]) -> Stored:
    """Return what is said of the original outside its lists."""
    return {key: value for key, value in (document.get("original") or {}).items() if key not in LISTS}


def entry_of(document: Mapping[str, Any], kind: Kind, key: str) -> Stored | None:
    """Return the measurement or source of this key, or None."""
    found = (document.get("original") or {}).get(kind, [])
    return next((one for one in found if one["key"] == key), None)


@transaction.atomic
def say_original(
    *, procedure: Procedure, said: Mapping[str, Any], base: str, by: AbstractBaseUser
) -> Procedure:
    """Exchange what is said of the original outside its lists. Raises EditConflict and Refused.

    `base` is the digest of what was there when it was opened.
    """
    found = locked(procedure)
    present = identity_of(found.document)
    _same(found, present, dict(said), base)

    def changed(now: Stored) -> Stored:
        return {**said, **{key: now[key] for key in LISTS if key in now}}

    return _save(found, changed, "Record: the original", by)


@transaction.atomic
def keep_entry(
    *, procedure: Procedure, kind: Kind, key: str, entry: Mapping[str, Any], base: str, by: AbstractBaseUser
) -> Procedure:
    """Put a measurement or a source on the record, in place of that of `key` where one is named.

    Raises EditConflict where it was changed or taken away since `base`, and Refused.
    """
    found = locked(procedure)
    if key:
        present = entry_of(found.document, kind, key)
        if present is None:
            raise EditConflict(dict(entry), None, last_edit(found))
        _same(found, present, {**entry, "key": key}, base)

    def changed(now: Stored) -> Stored:
        there = list(now.get(kind, []))
        if key:
            return {**now, kind: [{**entry, "key": key} if one["key"] == key else one for one in there]}
        taken = {one["key"] for one in there}
        fresh = next(name for n in range(1, len(there) + 2) if (name := f"{LISTS[kind]}{n}") not in taken)
        return {**now, kind: [*there, {**entry, "key": fresh}]}

    return _save(found, changed, f"Record: a {WORDS[kind]}", by)


@transaction.atomic
def remove_entry(*, procedure: Procedure, kind: Kind, key: str, by: AbstractBaseUser) -> Procedure:
    """Take a measurement or a source off the record; undo brings it back. Raises Refused."""
    found = locked(procedure)
    if entry_of(found.document, kind, key) is None:
        raise Refused("It is not on the record any more.")

    def without(now: Stored) -> Stored:
        return {**now, kind: [one for one in now[kind] if one["key"] != key]}

    return _save(found, without, f"Record: without a {WORDS[kind]}", by)


def _same(found: Procedure, present: Stored, mine: Stored, base: str) -> None:
    if base != editing.digest(present) and mine != present:
        raise EditConflict(mine, present, last_edit(found))


def _save(
    found: Procedure, change: Callable[[Stored], Stored], label: str, by: AbstractBaseUser
) -> Procedure:
    def original(document: Mapping[str, Any]) -> Stored:
        now = change(dict(document.get("original") or {}))
        return editing.with_details(document, {"original": {k: v for k, v in now.items() if v} or None})

    document = altered(found.document, original)
    save(found, document, Change(label), by)
    return found
