"""What is read of procedures, their revisions, adaptations and photos, and as whom."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Case, Q, QuerySet, When

from procedures.access import may_edit
from procedures.engine import document
from procedures.engine.document import Document
from procedures.models import Adaptation, Membership, Offer, Photo, Procedure, Revision

LONGEST_LINE = 12  # originals of originals that are told


def public_procedures() -> QuerySet[Procedure]:
    """Return what everybody may read, the newest revision first; show `latest.title`, not the draft's."""
    found = Procedure.objects.filter(status=Procedure.Status.PUBLIC, latest__isnull=False, hidden=None)
    found = found.select_related("owner", "writer", "latest").defer("document")
    return found.order_by("-latest__published_at", "-pk")


def readable_procedures(user: AbstractBaseUser | AnonymousUser) -> QuerySet[Procedure]:
    """Return what this user may read in some form, the user's own first, then the newest.

    That is what is public, the user's own, and what the user's guilds read or keep on a shelf; what is
    unlisted is found by its address alone.
    """
    published = Q(latest__isnull=False, hidden=None)
    allowed = public = published & Q(status=Procedure.Status.PUBLIC)
    own = Q(pk__in=())
    if user.is_authenticated:
        own = Q(owner_id=user.pk)
        mine = Membership.objects.filter(user_id=user.pk)
        working = mine.filter(role__in=(Membership.Role.KEEPER, Membership.Role.EDITOR))
        for_guild = published & Q(status=Procedure.Status.GUILD, guild__in=mine.values("guild"))
        allowed = public | own | for_guild | Q(on_shelf=True, guild__in=working.values("guild"))
    found = Procedure.objects.filter(allowed).select_related("owner", "writer", "latest", "guild")
    found = found.defer("document", "latest__document").annotate(is_own=Case(When(own, then=1), default=0))
    return found.order_by("-is_own", "-latest__published_at", "-pk")


def own_procedures(user: AbstractBaseUser | AnonymousUser) -> QuerySet[Procedure]:
    """Return the user's procedures, the last changed first."""
    if not user.is_authenticated:
        return Procedure.objects.none()
    return Procedure.objects.filter(owner_id=user.pk).select_related("owner", "latest")


def readable_revision(
    procedure: Procedure, user: AbstractBaseUser | AnonymousUser, *, draft: bool = False
) -> Revision | None:
    """Return the revision that this user reads; None means the draft, which only who may edit gets.

    They read the latest revision of a published procedure too, unless the draft is asked for.
    """
    if (draft or not procedure.is_published) and may_edit(user, procedure):
        return None
    return procedure.latest


def public_revision(procedure: Procedure, number: int) -> Revision | None:
    """Return a revision that is published by its number, or None; one that is withdrawn is not."""
    standing = procedure.revisions.filter(number=number, withdrawn=None, hidden=None)
    return standing.first() if procedure.is_published else None


def revisions_of(procedure: Procedure) -> QuerySet[Revision]:
    """Return all revisions of a procedure, the newest first, those withdrawn too, without their documents."""
    return procedure.revisions.select_related("by").defer("document")


def adaptation_of(procedure: Procedure) -> Adaptation | None:
    """Return what a procedure was adapted from, or None where it is its author's own."""
    found = Adaptation.objects.filter(procedure=procedure)
    return found.select_related("source__procedure__owner", "caught_up__procedure__owner").first()


def lineage_of(procedure: Procedure) -> list[Adaptation]:
    """Return where a procedure comes from: its original, that one's and so on; a circle ends the line."""
    line: list[Adaptation] = []
    seen = {procedure.pk}
    step = _came_from(procedure.pk)
    while step and len(line) < LONGEST_LINE:
        line.append(step)
        source = step.source.procedure_id if step.source else None
        step = _came_from(source) if source and source not in seen else None
        seen.add(source or 0)
    return line


def _came_from(pk: int) -> Adaptation | None:
    found = Adaptation.objects.filter(procedure_id=pk).select_related("source__procedure")
    return found.defer("source__document", "source__procedure__document").first()


def adaptations_of(procedure: Procedure) -> QuerySet[Procedure]:
    """Return what others published that was adapted from a procedure, the newest first."""
    return public_procedures().filter(adaptation__source__procedure=procedure).defer("latest__document")


def offers_of(procedure: Procedure) -> QuerySet[Offer]:
    """Return the offers to the author of a procedure and those made of it, the newest first."""
    found = Offer.objects.filter(Q(to=procedure) | Q(procedure=procedure))
    found = found.select_related("by", "to__latest").prefetch_related("changes")
    return found.defer("document", "base", "to__document", "to__latest__document")


def is_photo_published(procedure: Procedure, digest: str) -> bool:
    """Whether a revision that can be read shows the photo; the newest are looked at first."""
    is_read = procedure.is_published or procedure.hidden is not None  # what is hidden, moderators read
    standing = (
        procedure.revisions.filter(withdrawn=None, hidden=None) if is_read else procedure.revisions.none()
    )
    documents = standing.values_list("document", flat=True)
    return any(digest in digests_shown(one) for one in documents.iterator(chunk_size=1))


def readable_document(
    procedure: Procedure, user: AbstractBaseUser | AnonymousUser, *, draft: bool = False
) -> Document:
    """Return the document that this user reads; see `readable_revision`."""
    revision = readable_revision(procedure, user, draft=draft)
    return document.read(revision.document if revision else procedure.document, draft=True)


def digests_shown(document: Mapping[str, Any]) -> set[str]:
    """Return the digests of all photos that a stored document names."""
    steps = (step for part in document["parts"] for step in part.get("steps", []))
    return {photo["digest"] for step in steps for photo in step.get("photos", [])}


def photos(procedure: Procedure) -> dict[str, Photo]:
    """Return the procedure's photos by digest, in one query."""
    return {one.digest: one for one in procedure.photos.all()}


@dataclass(frozen=True)
class History:
    """What can be undone and done again: the labels of those edits, "" for none."""

    undo: str
    redo: str


def history(procedure: Procedure) -> History:
    """Return what can be undone and done again from where the draft is, in one query."""
    near = procedure.edits.filter(number__range=(max(procedure.head - 1, 0), procedure.head + 1))
    labels = dict(near.values_list("number", "label"))
    can_undo = procedure.head > 0 and procedure.head - 1 in labels
    return History(labels.get(procedure.head, "") if can_undo else "", labels.get(procedure.head + 1, ""))
