"""Leaving: an account deleted for good, with all that is the person's and, on request, the name elsewhere."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import AbstractBaseUser, User
from django.db import transaction
from django.db.models import Q

from procedures import editing, queries
from procedures.editing import Stored
from procedures.engine.parameters.fields import DocumentError
from procedures.exchange.account import LEFT, Leaving, rooms
from procedures.models import (
    Adaptation,
    Answer,
    Edit,
    Facts,
    Offer,
    OfferedChange,
    Photo,
    Procedure,
    Revision,
)

from .adapting import CREDIT_LENGTH, credit_line
from .finding import note_facts
from .procedures import forget_unshared
from .shelf import WROTE

CREDITED_FOR = ("changes", "answers", WROTE)  # as the site's own credits say it


@transaction.atomic
def leave(*, leaving: Leaving, by: AbstractBaseUser) -> None:
    """Delete an account for good, as its person decided. Sessions end; nothing of it can be had back."""
    person = User.objects.select_for_update().get(pk=by.pk)
    if leaving.name_out:
        _take_name_out(person)
    written = Procedure.objects.filter(Q(writer=person) | Q(owner=person, writer=None, on_shelf=True))
    written_here = list(written.values_list("pk", flat=True))
    for room in rooms():
        room.erase(person, leaving)
    # What others keep by now is credited to nobody: they did not write it.
    kept = Procedure.objects.filter(pk__in=written_here).exclude(owner=person).exclude(owner__username=LEFT)
    if kept.exists():
        kept.update(writer=nobody())
    person.delete()


@transaction.atomic
def leave_behind(*, procedure: Procedure, by: AbstractBaseUser) -> Procedure:
    """Let a published procedure stand as it was published last, with nobody's name on it.

    Its draft, its history and photos that no revision shows go; offers that wait are declined.
    """
    found = Procedure.objects.select_for_update().get(pk=procedure.pk)
    name = by.get_username()
    own = _Name(name, _as_written(name), _answers_of(by))
    assert found.latest is not None
    found.edits.all().delete()
    for revision in found.revisions.all():
        _rewrite_revision(revision, own)
    found.latest.refresh_from_db()
    found.owner, found.document, found.title = nobody(), found.latest.document, found.latest.title
    found.head, found.version = 0, found.version + 1
    found.save()
    Edit.objects.create(
        procedure=found, number=0, document=found.document, label="The beginning", at=found.updated
    )
    shown = set().union(*(queries.digests_shown(one.document) for one in found.revisions.all()))
    unseen = list(found.photos.exclude(digest__in=shown))
    Photo.objects.filter(pk__in=[one.pk for one in unseen]).delete()
    forget_unshared(unseen)
    _found_anew(found)
    waiting = OfferedChange.objects.filter(offer__to=found, state=OfferedChange.State.OPEN)
    waiting.update(state=OfferedChange.State.DECLINED, reason="Its author has left.", decided=found.updated)
    return found


def nobody() -> User:
    """Return the account that what was left behind belongs to: nobody signs in to it."""
    found, is_new = User.objects.get_or_create(username=LEFT, defaults={"is_active": False})
    if is_new:
        found.set_unusable_password()
        found.save(update_fields=("password",))
    return found


# -- the name in what others made --------------------------------------------------------------------


@dataclass(frozen=True)
class _Name:
    """A name to be taken out of credits and notes where these patterns find it, and of nothing else."""

    name: str
    credited: re.Pattern[str]
    noted: re.Pattern[str]

    def out_of(self, credit: str) -> str:
        """Return a credit without the name, no longer than there is room."""
        return self.credited.sub(LEFT, credit)[:CREDIT_LENGTH]

    def out_of_document(self, document: Mapping[str, Any]) -> Stored:
        """Return a stored document without the name in its credits, and under answers in its notes."""
        changed = dict(document)
        if "credits" in document:
            lines = [self.out_of(one) for one in document["credits"]]
            changed["credits"] = list(dict.fromkeys(lines))
        changed["parts"] = [self._part(one) for one in document["parts"]]
        return changed

    def _part(self, part: Stored) -> Stored:
        steps = [
            {**one, "note": self.noted.sub(LEFT, one["note"])} if one.get("note") else one
            for one in part.get("steps", [])
        ]
        return {**part, "steps": steps} if "steps" in part else part


def _take_name_out(person: User) -> None:
    """Take a name out of what others adapted from the person's, and where they took something from them.

    Only what the site wrote there is changed, and what came there from the person's own credits: what people
    wrote about one another is theirs.
    """
    name = person.get_username()
    lines = set()
    for one in Revision.objects.filter(procedure__owner=person).iterator(chunk_size=5):
        lines.add(credit_line(name, one))
        lines.update(line for line in one.document.get("credits", ()) if _as_written(name).match(line))
    lines |= {f"{name}: {what}"[:CREDIT_LENGTH] for what in CREDITED_FOR}
    tails = "|".join(re.escape(line.removeprefix(name)) for line in sorted(lines))
    credited = re.compile(rf"^{re.escape(name)}(?=(?:{tails})$)")
    written = _Name(name, credited, _answers_of(person))
    for answer in Answer.objects.filter(by=person, folded__isnull=False):
        answer.as_folded = written.noted.sub(LEFT, answer.as_folded)
        answer.save(update_fields=("as_folded",))
    theirs = Procedure.objects.filter(pk__in=_touched(person)).exclude(owner=person, on_shelf=False)
    for procedure in theirs.iterator(chunk_size=5):
        _rewrite(procedure, written)
    Adaptation.objects.filter(author=name).update(author=LEFT)


def _as_written(name: str) -> re.Pattern[str]:
    """Return the pattern of a name that a person's own credit begins with: "alice", "alice (design)"."""
    return re.compile(rf"^{re.escape(name)}(?=$|[:,;]| \()")


def _answers_of(person: AbstractBaseUser) -> re.Pattern[str]:
    """Return the pattern of a name where it stands under the person's answers in notes."""
    folded = Answer.objects.filter(by_id=person.pk, folded__isnull=False)
    marks = "|".join(str(pk) for pk in folded.values_list("pk", flat=True)) or "none"
    return re.compile(rf"(?<=\*){re.escape(person.get_username())}(?=, answer (?:{marks})\*)")


def _touched(person: User) -> set[int]:
    """Return the procedures that may name a person: what took something over, and what came of those."""
    taken = Offer.objects.filter(by=person, changes__state=OfferedChange.State.ACCEPTED)
    answered = Answer.objects.filter(by=person, folded__isnull=False)
    own = Procedure.objects.filter(Q(owner=person) | Q(writer=person))
    found = set(own.values_list("pk", flat=True))
    found |= set(taken.values_list("to", flat=True))
    found |= set(answered.values_list("question__procedure", flat=True))
    fresh = found
    while fresh:
        came = Adaptation.objects.filter(source__procedure__in=fresh).values_list("procedure", flat=True)
        fresh = set(came) - found
        found |= fresh
    return found


def _rewrite(procedure: Procedure, name: _Name) -> None:
    """Take a name out of a procedure's draft, its history, its revisions and what it owes."""
    document = name.out_of_document(procedure.document)
    if document != procedure.document:
        procedure.document = document
        procedure.version += 1
        procedure.save(update_fields=("document", "version"))
    for edit in procedure.edits.iterator(chunk_size=20):
        edit.document = name.out_of_document(edit.document)
        edit.label = _out_of_label(edit.label, name.name)
        edit.save(update_fields=("document", "label"))
    for revision in procedure.revisions.iterator(chunk_size=5):
        _rewrite_revision(revision, name)
    for owed in Adaptation.objects.filter(procedure=procedure):
        owed.credits = [name.out_of(one) for one in owed.credits]
        owed.save(update_fields=("credits",))
    for offer in procedure.offers_made.iterator(chunk_size=5):
        offer.document, offer.base = (name.out_of_document(one) for one in (offer.document, offer.base))
        offer.save(update_fields=("document", "base"))
    _found_anew(procedure)


def _found_anew(procedure: Procedure) -> None:
    """Let a procedure be found by its words as they are now, where it is found at all."""
    facts = Facts.objects.filter(procedure=procedure)
    if not facts.exists():
        return
    try:
        note_facts(Procedure.objects.get(pk=procedure.pk))
    except DocumentError:  # written for another release: it is found no more
        facts.delete()


def _rewrite_revision(revision: Revision, name: _Name) -> None:
    """Take a name out of a revision, the one change that is ever made to one; its figures stay."""
    document = name.out_of_document(revision.document)
    if document != revision.document:
        revision.document, revision.digest = document, editing.digest(document)
        revision.save(update_fields=("document", "digest"))


def _out_of_label(label: str, name: str) -> str:
    for before, after in (("Offered by ", ":"), ("Answer by ", " folded in"), ("Credit: ", "")):
        if label.startswith(f"{before}{name}{after}"):
            return f"{before}{LEFT}{after}{label.removeprefix(f'{before}{name}{after}')}"[:160]
    return label
