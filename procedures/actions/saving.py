"""How every change of a draft is saved: under a lock, checked, with a line of history."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone

from procedures.editing import NoSuchPlace, Stored, TooMany
from procedures.engine import document as engine_document
from procedures.engine.finding import Finding
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import Frame
from procedures.models import Edit, Procedure

DEPTH = 300  # edits that can be undone
TOGETHER = timedelta(seconds=20)  # changes of one value this close to each other are one edit


class Refused(ValueError):
    """A change that cannot be made; says why in a sentence."""


class EditConflict(Exception):
    """Someone saved the same thing since it was opened.

    `mine` is what was to be saved, `theirs` what is there now, or None when it is gone; `by` and `at` say
    who saved last and when.
    """

    def __init__(self, mine: Stored, theirs: Stored | None, last: Edit | None) -> None:
        super().__init__("Someone saved this since it was opened.")
        self.mine = mine
        self.theirs = theirs
        self.by = last.by if last else None
        self.at = last.at if last else None


class Stops(Exception):
    """A document that cannot be published, with the stops that stand in the way."""

    def __init__(self, stops: tuple[tuple[Frame, Finding], ...]) -> None:
        super().__init__(f"{len(stops)} stops stand in the way.")
        self.stops = stops


@dataclass(frozen=True)
class Change:
    """What an edit is called, and what it touched; see models.Edit."""

    label: str
    place: str = ""
    part: str = ""
    step: str = ""


def locked(procedure: Procedure) -> Procedure:
    """Return the procedure as it is now, held until the transaction ends. Raises Refused when it is gone."""
    found = Procedure.objects.select_for_update().filter(pk=procedure.pk).first()
    if found is None:
        raise Refused("This procedure was deleted.")
    return found


def last_edit(procedure: Procedure) -> Edit | None:
    """Return the edit that the draft is at."""
    return procedure.edits.select_related("by").filter(number=procedure.head).first()


def save(procedure: Procedure, document: Mapping[str, Any], change: Change, by: AbstractBaseUser) -> None:
    """Save a locked procedure's new draft and its line of history; nothing when nothing changed.

    Raises Refused for a document that would not read.
    """
    if document == procedure.document:
        return
    procedure.document = dict(document)
    try:
        procedure.read()
    except DocumentError as error:
        raise _refused(error) from error
    now = timezone.now()
    if not _carried_on(procedure, change, by, now):
        _append(procedure, change, by, now)
    procedure.title = document["title"]
    procedure.version += 1
    procedure.save(update_fields=("document", "title", "head", "version", "updated"))


def check(document: Mapping[str, Any]) -> None:
    """Raise Refused for a document that would not read as a draft."""
    try:
        engine_document.read(document, draft=True)
    except DocumentError as error:
        raise _refused(error) from error


def _refused(error: DocumentError) -> Refused:
    return Refused(f"{error.message} ({error.path})")


def altered(document: Mapping[str, Any], alter: Callable[[Mapping[str, Any]], Stored]) -> Stored:
    """Return the document altered, with what editing refuses as Refused."""
    try:
        return alter(document)
    except (NoSuchPlace, TooMany) as error:
        raise Refused(str(error)) from error


def _carried_on(procedure: Procedure, change: Change, by: AbstractBaseUser, now: Any) -> bool:
    """Carry the last edit on, if this one is the same hand still at the same value."""
    if not change.place or not procedure.head:
        return False
    edits = procedure.edits.filter(
        number=procedure.head, place=change.place, by_id=by.pk, at__gte=now - TOGETHER
    )
    carried = edits.update(document=procedure.document, at=now)
    if carried:
        procedure.edits.filter(number__gt=procedure.head).delete()
    return bool(carried)


def _append(procedure: Procedure, change: Change, by: AbstractBaseUser, now: Any) -> None:
    """Add an edit after the one the draft is at; what was undone before it can no longer be redone."""
    procedure.edits.filter(number__gt=procedure.head).delete()
    procedure.head += 1
    if procedure.head > DEPTH:
        procedure.edits.filter(number__lt=procedure.head - DEPTH).delete()
    Edit.objects.create(
        procedure=procedure,
        number=procedure.head,
        document=procedure.document,
        label=change.label[:160],
        place=change.place[:160],
        part=change.part,
        step=change.step,
        by_id=by.pk,
        at=now,
    )
