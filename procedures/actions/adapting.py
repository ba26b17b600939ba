"""Adapting: a revision copied into a draft of one's own, and later changes of the original taken over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import queries
from procedures.editing import NoSuchPlace, Stored, TooMany
from procedures.licences import fault_of, owed_credits
from procedures.merging import StepChange, changes, taken
from procedures.models import Adaptation, Photo, Procedure, Revision

from .procedures import create_procedure
from .saving import Change, Refused, locked, save

MOST_CREDITS = 40  # as a document holds
CREDIT_LENGTH = 120


@transaction.atomic
def adapt(*, revision: Revision, by: AbstractBaseUser) -> Procedure:
    """Copy a published revision into a draft of one's own, its author credited. Raises Refused.

    The lineage is told by nothing but this: what is taken in from a file has none.
    """
    known = Revision.objects.select_related("procedure__owner", "procedure__writer")
    revision = known.get(pk=revision.pk)  # as it is now
    original = revision.procedure
    if not original.is_published or revision.withdrawn or revision.hidden:
        raise Refused("Only what is published can be adapted.")
    document = revision.document
    author = original.author
    names = list(document.get("credits", []))
    if original.owner_id != by.pk and (line := credit_line(author, revision)) not in names:
        names.append(line)
    if len(names) > MOST_CREDITS:
        raise Refused(
            f"It credits {MOST_CREDITS} names already, as many as there is room for: its author could not be."
        )
    made = create_procedure(document={**document, "credits": names}, by=by)
    licence = document.get("licence", "CC-BY-4.0")
    Adaptation.objects.create(
        procedure=made,
        source=revision,
        caught_up=revision,
        title=revision.title,
        number=revision.number,
        author=author,
        licence=licence,
        credits=owed_credits(licence, names),
    )
    copy_photos(original, made, queries.digests_shown(document))
    return made


def credit_line(author: str, revision: Revision) -> str:
    """Return how the author of a revision is credited in what is made of it."""
    return f"{author}: {revision.title}, revision {revision.number}"[:CREDIT_LENGTH]


def copy_photos(source: Procedure, to: Procedure, digests: Iterable[str]) -> None:
    """Let another procedure show these photos too; their files are the same."""
    there = set(to.photos.values_list("digest", flat=True))
    for one in source.photos.filter(digest__in=set(digests) - there):
        Photo.objects.create(
            procedure=to,
            digest=one.digest,
            width=one.width,
            height=one.height,
            size=one.size,
            uploader_id=one.uploader_id,
        )


def check_lineage(procedure: Procedure, document: Mapping[str, Any]) -> None:
    """Raise Refused for a document that does not keep what the procedure owes its original."""
    owed = Adaptation.objects.filter(procedure=procedure).first()
    if owed and (fault := fault_of(document, owed.licence, owed.credits)):
        raise Refused(fault)


@transaction.atomic
def take_over(*, procedure: Procedure, number: int, name: str, by: AbstractBaseUser) -> Procedure:
    """Take one change of the original, as it is in its revision of this number, into the draft.

    Raises Refused. Undo takes it back.
    """
    found = locked(procedure)
    lineage, theirs = _original_of(found, number)
    assert lineage.caught_up is not None
    change = named(changes(lineage.caught_up.document, theirs.document, found.document), name)
    apply(found, change, f"From the original: {told(change)}", by)
    copy_photos(theirs.procedure, found, digests_of(change))
    return found


@transaction.atomic
def catch_up(*, procedure: Procedure, number: int, by: AbstractBaseUser) -> Procedure:
    """Have done with the changes of the original up to its revision of this number. Raises Refused."""
    found = locked(procedure)
    lineage, theirs = _original_of(found, number)
    lineage.caught_up = theirs
    lineage.save(update_fields=("caught_up",))
    return found


def _original_of(procedure: Procedure, number: int) -> tuple[Adaptation, Revision]:
    lineage = queries.adaptation_of(procedure)
    source = lineage.source if lineage else None
    theirs = queries.public_revision(source.procedure, number) if source else None
    if lineage is None or lineage.caught_up is None or theirs is None:
        raise Refused("The original is no longer published, so nothing can be taken over from it.")
    return lineage, theirs


def named(found: Iterable[StepChange], name: str) -> StepChange:
    """Return the change of this name that is still to be taken. Raises Refused."""
    change = next((one for one in found if one.name == name), None)
    if change is None or change.state == "had":
        raise Refused("This change is there already, or is no longer one.")
    return change


def apply(procedure: Procedure, change: StepChange, label: str, by: AbstractBaseUser) -> None:
    """Save a locked procedure's draft with a change taken over, as one edit. Raises Refused."""
    try:
        document = taken(procedure.document, change)
    except (NoSuchPlace, TooMany) as error:
        raise Refused(str(error)) from error
    step = change.mine["key"] if change.mine and change.step else ""
    save(procedure, document, Change(label, part=change.part, step=step), by)


def told(change: StepChange) -> str:
    """Return a change in a few words: "Draw out changed"."""
    from procedures.engine.catalogue import find

    one: Stored = change.theirs or change.base or {}
    if not change.step:
        return f"{one.get('name', change.part)}, {change.kind}"
    kind = find(one.get("operation", ""))
    return f"{kind.title if kind else one.get('operation', 'a step')} {change.kind}"


def digests_of(change: StepChange) -> set[str]:
    """Return the digests of the photos that come with a change."""
    theirs = change.theirs or {}
    steps = theirs.get("steps", []) if not change.step else [theirs]
    return {photo["digest"] for step in steps for photo in step.get("photos", [])}
