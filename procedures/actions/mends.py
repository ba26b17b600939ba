"""Putting a finding right by one press, and letting one stand with a reason."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing, mending
from procedures.editing import Stored
from procedures.engine import document as engine_document
from procedures.engine.document import REASON_LIMIT
from procedures.engine.finding import Finding, Level
from procedures.engine.replay import Replay, replay
from procedures.models import Procedure

from .saving import Change, Refused, altered, locked, save


@transaction.atomic
def apply_mend(*, procedure: Procedure, part: str, step: str, code: str, by: AbstractBaseUser) -> Procedure:
    """Make the changes that put the finding of this code at a step right.

    Raises Refused where there is no such finding any more, and where a step that came about no longer would.
    """
    found = locked(procedure)
    before = _replayed(found.document)
    mend = next((one.mending(step) for one in _at(before, part, step, code) if one.can_be_mended), None)
    if mend is None:
        raise Refused("This is no longer found at the step: there is nothing to mend.")
    document = altered(found.document, lambda one: mending.mended(one, part, mend))
    _refuse_new_stops(before, _replayed(document))
    save(found, document, Change(f"Mend: {mend.label.text()}", part=part, step=step), by)
    return found


@transaction.atomic
def silence_finding(
    *, procedure: Procedure, part: str, step: str, code: str, reason: str, by: AbstractBaseUser
) -> Procedure:
    """Let the cautions or notes of a code stand at a step, with the reason. Raises Refused."""
    found = locked(procedure)
    reason = " ".join(reason.split())
    if not reason:
        raise Refused("Say why it may stand: the reason is shown in its place.")
    if len(reason) > REASON_LIMIT:
        raise Refused(f"The reason is {len(reason)} characters long; at most {REASON_LIMIT} are kept.")
    there = _at(_replayed(found.document), part, step, code)
    if not there:
        raise Refused("This is no longer found at the step: there is nothing to let stand.")
    if any(one.level == Level.STOP for one in there):
        raise Refused("A stop cannot be let stand: what it says cannot be done.")
    return _silencing(found, part, step, "Let stand", lambda reasons: {**reasons, code: reason}, by)


@transaction.atomic
def lift_silence(*, procedure: Procedure, part: str, step: str, code: str, by: AbstractBaseUser) -> Procedure:
    """Let the findings of a code at a step speak again. Raises Refused."""
    found = locked(procedure)

    def without(reasons: Stored) -> Stored:
        return {key: reason for key, reason in reasons.items() if key != code}

    return _silencing(found, part, step, "No longer let stand", without, by)


def _silencing(
    found: Procedure,
    part: str,
    step: str,
    label: str,
    change: Callable[[Stored], Stored],
    by: AbstractBaseUser,
) -> Procedure:
    def alter(one: Stored) -> Stored:
        reasons = change(dict(one.get("silenced", {})))
        rest: Stored = {key: value for key, value in one.items() if key != "silenced"}
        return {**rest, "silenced": reasons} if reasons else rest

    document = altered(found.document, lambda one: editing.with_step(one, part, step, alter))
    save(found, document, Change(label, part=part, step=step), by)
    return found


def _replayed(document: Stored) -> Replay:
    return replay(engine_document.read(document, draft=True))


def _at(replayed: Replay, part: str, step: str, code: str) -> list[Finding]:
    """Return the findings of a code at a step."""
    found = replayed.part(part)
    frames = found.frames if found else ()
    return [one for frame in frames if frame.key == step for one in frame.findings if one.code == code]


def _refuse_new_stops(before: Replay, after: Replay) -> None:
    """Raise Refused where fewer steps come about than before; says what would stop them."""
    if _done(after) < _done(before):
        frame, stop = after.stops[0]
        raise Refused(f"That would stop step {frame.number}, {frame.title}: {stop.text()}")


def _done(replayed: Replay) -> int:
    return sum(one.status == "done" for part in replayed.parts for one in part.frames)
