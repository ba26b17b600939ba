"""Publishing: a draft frozen as a revision, and taken back from its readers."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from procedures import editing, frozen
from procedures.engine import document as engine_document
from procedures.engine.document import Document
from procedures.engine.replay import replay
from procedures.models import FrozenReport, Guild, Procedure, Revision
from procedures.report import report

from .adapting import check_lineage
from .finding import note_facts
from .saving import Refused, Stops, locked
from .talking import note_taken

Status = Procedure.Status
WITHDRAWN = ("withdrawn", "withdrawn_reason", "withdrawn_from")


@transaction.atomic
def publish(
    *,
    procedure: Procedure,
    note: str = "",
    status: str | None = None,
    guild: Guild | None = None,
    by: AbstractBaseUser,
) -> Revision:
    """Freeze the draft, and the figures of its replay, as the revision that its readers get.

    `note` says what changed; `status` who reads it, with the `guild` where it is for one: by itself, who read
    it so far, and everybody the first time. A draft that is the same as the latest revision makes no new one.
    Raises Stops, and Refused for an adaptation that does not keep what it owes its original, for photos of a
    reproduced original that may not be published, and for readers who may not be shut out.
    """
    found = locked(procedure)
    _let_read(found, status or (found.status if _is_out(found) else Status.PUBLIC), guild)
    check_lineage(found, found.document)
    document = engine_document.read(found.document, draft=True)
    _check_photos(document)
    replayed = replay(document)
    if replayed.stops:
        raise Stops(replayed.stops)
    digest = editing.digest(found.document)
    revision = found.latest
    if revision is None or revision.digest != digest:
        figures = report(replayed)
        revision = Revision.objects.create(
            procedure=found,
            number=(found.revisions.aggregate(last=Max("number"))["last"] or 0) + 1,
            title=found.title,
            document=found.document,
            digest=digest,
            frames_digest=editing.digest(figures),
            note=note,
            by_id=by.pk,
        )
        FrozenReport.objects.create(revision=revision, packed=frozen.pack(figures))
    found.latest = revision
    found.save(update_fields=("latest", "status", "guild", *WITHDRAWN, "updated"))
    note_taken(procedure=found, revision=revision)
    note_facts(found, replayed)
    return revision


def _check_photos(document: Document) -> None:
    """Refuse photos of an original whose owner has not permitted that they are published. Raises Refused."""
    if document.original and document.original.photos_may_be_published:
        return
    shown = [
        f"step {number} of {part.name}"
        for part in document.parts
        for number, step in enumerate(part.steps, start=1)
        if any(photo.of_original for photo in step.photos)
    ]
    if shown:
        raise Refused(
            f"Photos of the original are at {', '.join(shown)}, and its record does not say that they may be"
            " published. Ask its owner and put the permission on the record, or take the photos away."
        )


def _let_read(found: Procedure, status: str, guild: Guild | None) -> None:
    """Set who reads it. Raises Refused.

    Who cites what was open must find out why it is no longer: it goes to a guild alone only when it was
    withdrawn with a reason, and its stone then stays for everybody else.
    """
    if status == Status.GUILD:
        guild = found.guild if found.on_shelf or guild is None else guild
        if guild is None:
            raise Refused("Say which guild it is for.")
        if found.is_open:
            raise Refused(
                "Others read it, and may cite it. Withdraw it first and say why; then publish it for the"
                " guild."
            )
    elif not found.on_shelf:
        guild = None
    else:
        guild = found.guild
    found.status, found.guild = status, guild
    if status != Status.GUILD or found.withdrawn_from in ("", Status.GUILD):
        found.withdrawn, found.withdrawn_reason, found.withdrawn_from = None, "", ""


def _is_out(found: Procedure) -> bool:
    """Whether it is published, hidden by a moderator or not."""
    return found.status != Status.DRAFT and found.latest_id is not None


@transaction.atomic
def unpublish(*, procedure: Procedure, reason: str = "", by: AbstractBaseUser) -> Procedure:
    """Let nobody read it but who works at it; its revisions stay, and readers are told the reason."""
    found = locked(procedure)
    if _is_out(found):
        found.withdrawn_from = found.withdrawn_from or found.status  # a stone for all stays for all
        found.withdrawn, found.withdrawn_reason = timezone.now(), reason
        found.status = Status.DRAFT
        found.save(update_fields=("status", *WITHDRAWN, "updated"))
        note_facts(found)
    return found


@transaction.atomic
def withdraw_revision(
    *, procedure: Procedure, revision: Revision, reason: str, by: AbstractBaseUser
) -> Procedure:
    """Show one revision no longer, and say why in its place.

    The newest that is left is what everybody reads; where none is left the procedure is withdrawn with it.
    Raises Refused for one that is withdrawn already.
    """
    found = locked(procedure)
    standing = found.revisions.filter(withdrawn=None, hidden=None)
    one = found.revisions.filter(pk=revision.pk, withdrawn=None)
    if not one.update(withdrawn=timezone.now(), withdrawn_reason=reason):
        raise Refused(f"Revision {revision.number} is withdrawn already.")
    newest = standing.order_by("-number").first()
    if newest is None:
        unpublish(procedure=found, reason=reason, by=by)
        found.refresh_from_db()
    found.latest = newest
    found.save(update_fields=("latest", "updated"))
    note_facts(found)
    return found
