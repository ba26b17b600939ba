"""Changes of a draft outside its steps: its details and its parts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing
from procedures.editing import NoSuchPlace, Stored
from procedures.models import Procedure

from .adapting import check_lineage
from .saving import Change, EditConflict, altered, last_edit, locked, save


@transaction.atomic
def edit_details(
    *, procedure: Procedure, details: Mapping[str, Any], base: str, by: AbstractBaseUser
) -> Procedure:
    """Exchange the title, summary, level, licence, credits or scale. Raises EditConflict and Refused."""
    found = locked(procedure)
    document = editing.with_details(found.document, details)
    if base != editing.details_digest(found.document):
        if document == found.document:
            return found
        raise EditConflict(_details(document), _details(found.document), last_edit(found))
    if {"licence", "credits"} & details.keys():
        check_lineage(found, document)
    changed = [key for key in details if details[key] != found.document.get(key)]
    label = ", ".join(changed) or "nothing"
    save(found, document, Change(f"Details: {label}", "details/" + "+".join(changed)), by)
    return found


@transaction.atomic
def edit_part(
    *, procedure: Procedure, part: str, fields: Mapping[str, Any], base: str, by: AbstractBaseUser
) -> Procedure:
    """Exchange the name, quantity, material or stock of a part. Raises EditConflict and Refused."""
    found = locked(procedure)
    try:
        present = editing.part_of(found.document, part)
    except NoSuchPlace as error:
        raise EditConflict(dict(fields), None, last_edit(found)) from error
    mine = {**present, **fields}
    if base != editing.part_digest(present):
        if mine == present:
            return found
        raise EditConflict(mine, present, last_edit(found))
    document = altered(found.document, lambda one: editing.with_part(one, part, lambda _: mine))
    changed = [key for key in fields if fields[key] != present.get(key)]
    label = f"{mine['name']}: {', '.join(changed) or 'nothing'}"
    save(found, document, Change(label, f"{part}//" + "+".join(changed), part), by)
    return found


@transaction.atomic
def add_part(
    *, procedure: Procedure, name: str, stock: Mapping[str, Any], material: Any, by: AbstractBaseUser
) -> tuple[Procedure, str]:
    """Add a part. Returns the procedure and the part's key. Raises Refused."""
    found = locked(procedure)
    part = editing.new_part(found.document, name, stock, material)
    document = altered(found.document, lambda one: editing.with_part_added(one, part))
    save(found, document, Change(f"Add part: {name}", part=part["key"]), by)
    return found, part["key"]


@transaction.atomic
def delete_part(*, procedure: Procedure, part: str, by: AbstractBaseUser) -> Procedure:
    """Delete a part with its steps; undo brings it back. Raises Refused, also for the last part."""
    found = locked(procedure)
    document = altered(found.document, lambda one: editing.without_part(one, part))
    name = editing.part_of(found.document, part)["name"]
    save(found, document, Change(f"Delete part: {name}", part=part), by)
    return found


def _details(document: Mapping[str, Any]) -> Stored:
    return {key: value for key, value in document.items() if key != "parts"}
