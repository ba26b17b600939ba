"""Taking in what phones send of their runs. The same thing sent twice is there once."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from math import isfinite
from secrets import compare_digest
from typing import Any
from uuid import UUID, uuid4

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db import transaction
from django.utils import timezone

from procedures import photos
from procedures.access import may_edit, may_read
from procedures.models import Course, Procedure, Run, RunEntry, RunPhoto
from procedures.photos import Prepared

from .saving import Refused
from .shops import note_where

KINDS = {
    "at",  # the screen of a step was opened
    "heat",
    "heat_undone",
    "out",  # the clock of a heat was started
    "soak",
    "measured",
    "note",
    "chip",
    "gate_asked",
    "gate",  # signed on the student's own phone
    "photo",  # its file comes by itself
    "piece",  # another piece of the same part was begun
    "done",
    "undone",  # the ending was taken back
}
MOST_AT_ONCE = 500
MOST_ENTRIES = 5000  # of one run
MOST_PHOTOS = 200  # of one run
LARGEST = 4000  # letters of one entry's own data
FIRST, LAST = datetime(2000, 1, 1, tzinfo=UTC), datetime(2100, 1, 1, tzinfo=UTC)
OWN = ("id", "n", "run", "kind", "part", "step", "number", "at", "sent")

Visitor = AbstractBaseUser | AnonymousUser


class NotYours(Refused):
    """The key is not that of the run."""


@dataclass(frozen=True)
class TakenIn:
    """A run as it is now, and the ids of what was sent that it has."""

    run: Run
    have: list[str]


@transaction.atomic
def take_in_run(*, run_id: UUID, sent: Mapping[str, Any], by: Visitor) -> TakenIn:
    """Add what a phone sends to its run, which is made when it first sends.

    It must belong somewhere: to an account, or to a class that is open. Raises Refused, NotYours.
    """
    given = _object(sent.get("run"), "the run")
    key = _text(sent.get("key"), "key", 64, least=16)
    entries = sent.get("entries", [])
    if not isinstance(entries, list) or len(entries) > MOST_AT_ONCE:
        raise Refused(f"At most {MOST_AT_ONCE} entries are taken at once, as a list.")
    run = _run(run_id, key, given, by)
    rows = [_entry(run, one) for one in entries]
    if run.entries.count() + len(rows) > MOST_ENTRIES + MOST_AT_ONCE:
        raise Refused(f"A run has at most {MOST_ENTRIES} entries.")
    RunEntry.objects.bulk_create(rows, ignore_conflicts=True)
    have = run.entries.filter(pk__in=[one.pk for one in rows]).values_list("pk", flat=True)
    return TakenIn(run, [str(one) for one in have])


@transaction.atomic
def forget_run(*, run_id: UUID, key: str) -> None:
    """Delete a run at the wish of its phone; one that is not there is no fault. Raises NotYours."""
    run = Run.objects.select_for_update().filter(pk=run_id).first()
    if run is None:
        return
    _check(run, key)
    forget_pictures([run])
    run.delete()


@transaction.atomic
def delete_run(*, run: Run, by: AbstractBaseUser) -> None:
    """Delete a run, its log and its photos."""
    forget_pictures([run])
    run.delete()


@transaction.atomic
def run_of_photo(*, run_id: UUID, entry_id: UUID, key: str) -> RunEntry:
    """Return the entry that a photo is sent for. Raises Refused, NotYours."""
    entry = RunEntry.objects.select_related("run").filter(pk=entry_id, run=run_id, kind="photo").first()
    if entry is None:
        raise Refused("The entry of this photo is not here yet: it comes first.")
    _check(entry.run, key)
    if not (entry.is_shared or entry.run.owner_id):
        raise Refused("A photo for its maker alone goes to an account only: it stays on the phone.")
    return entry


@transaction.atomic
def keep_run_photo(*, entry: RunEntry, prepared: Prepared) -> RunPhoto:
    """Keep the photo of an entry; one that is there already stays. Raises Refused."""
    run = Run.objects.select_for_update().get(pk=entry.run_id)
    found = RunPhoto.objects.filter(entry=entry).first()
    if found:
        return found
    if RunPhoto.objects.filter(entry__run=run).count() >= MOST_PHOTOS:
        raise Refused(f"A run has at most {MOST_PHOTOS} photos.")
    photo = RunPhoto.objects.create(
        entry=entry, width=prepared.width, height=prepared.height, size=prepared.size
    )
    photos.keep(prepared, photo)
    return photo


def forget_pictures(runs: Iterable[Run]) -> None:
    """Delete the files of the photos of runs that are about to go, once they are gone."""
    pictures = list(RunPhoto.objects.filter(entry__run__in=list(runs)))

    def forget() -> None:
        for one in pictures:
            photos.forget(one)

    transaction.on_commit(forget)


def sign_gate(*, run: Run, part: str, step: str, number: int, by: AbstractBaseUser) -> None:
    """Enter that the teacher has looked and lets the student go on; once."""
    if run.entries.filter(kind="gate", part=part, step=step).exists():
        return
    RunEntry.objects.create(
        id=uuid4(), run=run, kind="gate", part=part, step=step, number=number, at=timezone.now(), by_id=by.pk
    )


def _run(run_id: UUID, key: str, given: Mapping[str, Any], by: Visitor) -> Run:
    found = Run.objects.select_for_update().filter(pk=run_id).first()
    if found is None:
        found = _new_run(run_id, key, given, by)
    else:
        _check(found, key)
    found.name = _text(given.get("name", ""), "name", 60)
    found.ended = bool(given.get("ended"))
    if found.owner_id is None and by.is_authenticated and given.get("account"):
        found.owner = by  # type: ignore[assignment]
    if found.course is None and given.get("code"):
        found.course = _course(given, found.procedure)
    if found.owner_id is None and found.course_id is None:
        raise Refused("Nothing is kept here without an account or a class: it stays on the phone.")
    found.save()
    if by.is_authenticated and found.owner_id == by.pk:
        note_where(run=found, by=by)
    return found


def _new_run(run_id: UUID, key: str, given: Mapping[str, Any], by: Visitor) -> Run:
    slug, number = str(given.get("slug")), given.get("revision")
    procedure = Procedure.objects.select_related("latest").filter(slug=slug).first()
    if procedure is None or not may_read(by, procedure):
        raise Refused("The procedure of this run is not here, or no longer public.")
    revision = procedure.revisions.filter(number=number).first() if isinstance(number, int) else None
    if revision is None and not may_edit(by, procedure):
        raise Refused("The revision of this run is not here.")
    return Run(
        id=run_id,
        key_digest=_digest(key),
        procedure=procedure,
        revision=revision,
        units=_text(given.get("units", "metric"), "units", 10),
        nominal=bool(given.get("nominal")),
        started=_time(given.get("started")),
    )


def _course(given: Mapping[str, Any], procedure: Procedure) -> Course:
    code = _text(given.get("code"), "code", 12).upper()
    course = Course.objects.filter(code=code).first()
    if course is None or course.ended:
        raise Refused("There is no class open by this code.")
    if not course.assignments.filter(procedure=procedure).exists():
        raise Refused("The class works by another procedure.")
    return course


def _entry(run: Run, given: Any) -> RunEntry:
    one = _object(given, "an entry")
    kind = one.get("kind")
    if kind not in KINDS:
        raise Refused(f"There is no entry of the kind {str(kind)[:20]!r}.")
    data = {name: value for name, value in one.items() if name not in OWN}
    if len(json.dumps(data)) > LARGEST:
        raise Refused("An entry is too long.")
    return RunEntry(
        id=_uuid(one.get("id")),
        run=run,
        n=_whole(one.get("n")),
        kind=kind,
        part=_text(one.get("part", ""), "part", 40),
        step=_text(one.get("step", ""), "step", 40),
        number=min(_whole(one.get("number", 0)), 10_000),
        at=_time(one.get("at")),
        data=data,
    )


# -- reading what was sent ---------------------------------------------------------------------------


def _check(run: Run, key: str) -> None:
    if not compare_digest(run.key_digest, _digest(str(key))):
        raise NotYours("This is not the key of the run.")


def _digest(key: str) -> str:
    return hashlib.sha256(key.encode()).hexdigest()


def _object(value: Any, what: str) -> Mapping[str, Any]:
    if not isinstance(value, Mapping):
        raise Refused(f"{what.capitalize()} must be an object.")
    return value


def _text(value: Any, what: str, most: int, least: int = 0) -> str:
    if not isinstance(value, str) or not least <= len(value) <= most or "\0" in value:
        raise Refused(f"The {what} must be a text of {least} to {most} letters.")
    return value.strip()


def _uuid(value: Any) -> UUID:
    try:
        return UUID(str(value))
    except ValueError as error:
        raise Refused("An entry needs an id.") from error


def _whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 2**53:
        raise Refused("The place of an entry in its order is a whole number.")
    return value


def _time(value: Any) -> datetime:
    """Return a time of a phone's clock [ms since 1970]; one that is far off is taken as near as it can be."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Refused("A time is a number of milliseconds.")
    if not isfinite(value):
        raise Refused("A time is a number of milliseconds.")
    seconds = min(max(value / 1000, FIRST.timestamp()), LAST.timestamp())
    return datetime.fromtimestamp(seconds, UTC)
