"""Results: that a revision was forged, as a form says it or as a run does, with photos."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from calculators import typed
from calculators.typed import TypedError
from calculators.wording import UNIT_SYSTEMS
from procedures import photos
from procedures.models import Result, ResultPhoto, ResultReading, Revision, Run, RunEntry
from procedures.photos import Prepared

from .saving import Refused
from .shops import note_where

MOST_PHOTOS = 8  # of one result
MOST_READINGS = 2000  # of one result
MOST_PIECES = 100  # of one run
LONGEST = timedelta(days=2)  # between the first entry of a run and the last, for its minutes to tell anything
AHEAD = timedelta(days=1)  # it is tomorrow already east of here
EARLIEST = date(1900, 1, 1)
BRANCH_LIMIT = 60  # letters


@dataclass(frozen=True)
class Report:
    """What is said of a piece that was forged; the fields are those of `models.Result`.

    `readings` are not saved yet, and belong to no result.
    """

    forged: date
    words: str = ""
    heats: int | None = None
    minutes: int | None = None
    bars: list[dict[str, Any]] = field(default_factory=list)
    wrong: str = ""
    wrong_part: str = ""
    wrong_step: str = ""
    changed: str = ""
    readings: tuple[ResultReading, ...] = ()


PLAIN = ("forged", "words", "heats", "minutes", "bars", "wrong", "wrong_part", "wrong_step", "changed")


@transaction.atomic
def report_result(
    *, revision: Revision, report: Report, run: Run | None = None, by: AbstractBaseUser
) -> Result:
    """Keep that somebody forged a revision, and how it went. Raises Refused."""
    _check(report)
    if run is not None:
        held = Run.objects.select_for_update().filter(pk=run.pk).first()
        if held is None or Result.objects.filter(run=held).exists():
            raise Refused("This run was reported already: one run is one result.")
    fields = {name: getattr(report, name) for name in PLAIN}
    result = Result.objects.create(
        procedure_id=revision.procedure_id, revision=revision, run=run, by_id=by.pk, **fields
    )
    _keep(result, report.readings)
    note_where(run=run, result=result, by=by)
    return result


@transaction.atomic
def edit_result(*, result: Result, report: Report, by: AbstractBaseUser) -> Result:
    """Say it otherwise. Of what was measured, the first piece is exchanged. Raises Refused."""
    _check(report)
    found = Result.objects.select_for_update().filter(pk=result.pk).first()
    if found is None or not found.stands:
        raise Refused("This result was taken back or hidden meanwhile, so it cannot be changed.")
    for name in PLAIN:
        setattr(found, name, getattr(report, name))
    found.edited = timezone.now()
    found.save(update_fields=(*PLAIN, "edited"))
    found.readings.filter(piece=1).delete()
    _keep(found, report.readings)
    return found


@transaction.atomic
def take_result_back(*, result: Result, by: AbstractBaseUser) -> None:
    """Delete a result, with what was measured and its photos."""
    pictures = list(result.photos.all())
    result.delete()
    transaction.on_commit(lambda: _forget(pictures))


def _forget(pictures: Iterable[ResultPhoto]) -> None:
    for one in pictures:
        photos.forget(one)


def _check(report: Report) -> None:
    if report.forged > timezone.localdate() + AHEAD:
        raise Refused("That day is still to come: say when you forged it.")
    if report.forged < EARLIEST:
        raise Refused("Nobody reports here from before 1900: look at the year.")
    if len(report.readings) > MOST_READINGS:
        raise Refused(f"A result has at most {MOST_READINGS} sizes.")
    for one in report.readings:
        for value in (one.length, one.mass):
            if value is not None and not value > 0:
                raise Refused("What was measured is more than 0: leave out what was not.")


def _keep(result: Result, readings: Iterable[ResultReading]) -> None:
    rows = list(readings)
    for one in rows:
        one.result = result
    ResultReading.objects.bulk_create(rows)


# -- photos ------------------------------------------------------------------------------------------


@transaction.atomic
def attach_result_photo(*, result: Result, prepared: Prepared, alt: str, by: AbstractBaseUser) -> ResultPhoto:
    """Show a photo with a result. Raises Refused."""
    found = Result.objects.select_for_update().filter(pk=result.pk).first()
    if found is None:
        raise Refused("This result was taken back.")
    if found.photos.count() >= MOST_PHOTOS:
        raise Refused(f"A result has at most {MOST_PHOTOS} photos.")
    photo = ResultPhoto.objects.create(
        result=found, alt=alt, width=prepared.width, height=prepared.height, size=prepared.size
    )
    photos.keep(prepared, photo)
    return photo


@transaction.atomic
def detach_result_photo(*, photo: ResultPhoto, by: AbstractBaseUser) -> None:
    """Take a photo away, with its files."""
    held = [photo]
    ResultPhoto.objects.filter(pk=photo.pk).delete()
    transaction.on_commit(lambda: _forget(held))


# -- from a run --------------------------------------------------------------------------------------


@dataclass(frozen=True)
class FromRun:
    """What a run says of itself; `left_out` counts the sizes in it that do not read."""

    report: Report
    left_out: int
    was_ahead: bool  # the phone's clock


def report_of_run(run: Run) -> FromRun:
    """Return the report that a run makes. Raises Refused for a run of a draft."""
    if run.revision is None:
        raise Refused("This run is of a draft. Only what is published has results.")
    entries = list(run.entries.order_by("n", "received"))
    readings, left_out = _measured(run, entries)
    heats = sum({"heat": 1, "heat_undone": -1}.get(one.kind, 0) for one in entries)
    today = timezone.localdate()
    forged = timezone.localdate(run.started)
    report = Report(
        forged=min(forged, today),
        heats=max(heats, 0) or None,
        minutes=_minutes(entries),
        readings=tuple(readings),
    )
    return FromRun(report, left_out, was_ahead=forged > today + AHEAD)


def _minutes(entries: list[RunEntry]) -> int | None:
    at = [one.at for one in entries if one.n is not None]
    long = max(at) - min(at) if at else timedelta()
    return round(long.total_seconds() / 60) or None if long <= LONGEST else None


def _measured(run: Run, entries: list[RunEntry]) -> tuple[list[ResultReading], int]:
    """Return what was measured in a run, of each piece and place the last, and how many do not read."""
    document = run.revision.document if run.revision else {"parts": []}
    known = {(part["key"], step["key"]) for part in document["parts"] for step in part.get("steps", ())}
    unit = UNIT_SYSTEMS.get(run.units, UNIT_SYSTEMS["metric"]).length_unit
    found: dict[tuple[Any, ...], ResultReading] = {}
    left_out = 0
    for one in entries:
        piece, branch = one.data.get("piece", 1), str(one.data.get("branch", ""))
        if one.kind != "measured" or (one.part, one.step) not in known:
            continue
        if piece not in range(1, MOST_PIECES + 1) or len(branch) > BRANCH_LIMIT:
            left_out += 1
            continue
        kind = "whole" if one.data.get("what") == "whole" else "run"
        place = (one.part, one.step, kind, branch, piece)
        reading = ResultReading(part=one.part, step=one.step, kind=kind, branch=branch, piece=piece)
        try:
            length, section = (str(one.data.get(name) or "").strip() for name in ("length", "section"))
            reading.length = typed.parse_length(length, unit) if length else None
            reading.section = typed.parse_section(section, unit).to_json() if section else None
        except TypedError:
            left_out += 1
            continue
        if reading.length or reading.section:
            found[place] = reading
    return list(found.values()), left_out
