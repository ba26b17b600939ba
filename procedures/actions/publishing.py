"""Publishing: a draft frozen as a revision, and taken back from its readers."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from procedures import editing, frozen
from procedures.engine import document as engine_document
from procedures.engine.replay import replay
from procedures.models import FrozenReport, Procedure, Revision
from procedures.report import report

from .adapting import check_lineage
from .saving import Refused, Stops, locked


@transaction.atomic
def publish(*, procedure: Procedure, note: str = "", by: AbstractBaseUser) -> Revision:
    """Freeze the draft, and the figures of its replay, as the revision that everybody reads.

    `note` says what changed. A draft that is the same as the latest revision makes no new one. Raises Stops,
    and Refused for an adaptation that does not keep what it owes its original.
    """
    found = locked(procedure)
    check_lineage(found, found.document)
    replayed = replay(engine_document.read(found.document, draft=True))
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
    found.status = Procedure.Status.PUBLIC
    found.withdrawn, found.withdrawn_reason = None, ""
    found.save(update_fields=("latest", "status", "withdrawn", "withdrawn_reason", "updated"))
    return revision


@transaction.atomic
def unpublish(*, procedure: Procedure, reason: str = "", by: AbstractBaseUser) -> Procedure:
    """Let nobody but the owner read the procedure; its revisions stay, and readers are told the reason."""
    found = locked(procedure)
    if found.is_public:
        found.status = Procedure.Status.DRAFT
        found.withdrawn, found.withdrawn_reason = timezone.now(), reason
        found.save(update_fields=("status", "withdrawn", "withdrawn_reason", "updated"))
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
    standing = found.revisions.filter(withdrawn=None)
    if not standing.filter(pk=revision.pk).update(withdrawn=timezone.now(), withdrawn_reason=reason):
        raise Refused(f"Revision {revision.number} is withdrawn already.")
    newest = standing.order_by("-number").first()
    if newest is None:
        unpublish(procedure=found, reason=reason, by=by)
        found.refresh_from_db()
    found.latest = newest
    found.save(update_fields=("latest", "updated"))
    return found
