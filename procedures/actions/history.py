"""Undo and redo: the draft walks along its history."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures.models import Edit, Procedure

from .saving import locked


@transaction.atomic
def undo(*, procedure: Procedure, by: AbstractBaseUser) -> tuple[Procedure, Edit | None]:
    """Take the draft back before its last edit. Returns the procedure and the edit undone, or None."""
    found = locked(procedure)
    undone = found.edits.filter(number=found.head).first() if found.head else None
    before = found.edits.filter(number=found.head - 1).first() if found.head else None
    if undone is None or before is None:
        return found, None
    _go(found, before)
    return found, undone


@transaction.atomic
def redo(*, procedure: Procedure, by: AbstractBaseUser) -> tuple[Procedure, Edit | None]:
    """Do again what was undone last. Returns the procedure and the edit done again, or None."""
    found = locked(procedure)
    again = found.edits.filter(number=found.head + 1).first()
    if again is not None:
        _go(found, again)
    return found, again


def _go(procedure: Procedure, edit: Edit) -> None:
    procedure.document = edit.document
    procedure.title = edit.document["title"]
    procedure.head = edit.number
    procedure.version += 1
    procedure.save(update_fields=("document", "title", "head", "version", "updated"))
