"""What feeds tell: revisions that everybody may read, the newest first. Nothing else is ever in a feed."""

from __future__ import annotations

from dataclasses import astuple, dataclass
from datetime import datetime

from django.contrib.auth.models import User
from django.db.models import CharField, Exists, F, OuterRef, Q, QuerySet
from django.db.models.fields.json import KT
from django.db.models.functions import Cast, Coalesce

from procedures.models import Collection, CollectionItem, Guild, Procedure, Revision

MOST = 50  # entries of a feed
USUAL_LICENCE = "CC-BY-4.0"  # what a document without one is under


@dataclass(frozen=True, slots=True)
class Told:
    """One revision as a feed tells it."""

    code: str
    number: int
    slug: str
    title: str
    author: str
    summary: str
    note: str
    licence: str
    published_at: datetime

    @property
    def key(self) -> tuple[str, ...]:
        """All that is told, to know whether it is still the same."""
        return tuple(str(one) for one in astuple(self))


def of_everybody() -> list[Told]:
    """Return the newest revisions of all that is public, in one query, as all below."""
    return _told(Revision.objects.all())


def of_person(person: User) -> list[Told]:
    """Return the newest revisions of what a person wrote."""
    wrote = Q(procedure__writer=person) | Q(procedure__owner=person, procedure__writer=None)
    return _told(Revision.objects.filter(wrote))


def of_guild(guild: Guild) -> list[Told]:
    """Return the newest revisions of what a guild has out for everybody."""
    return _told(Revision.objects.filter(procedure__guild=guild))


def of_procedure(procedure: Procedure) -> list[Told]:
    """Return the newest revisions of one procedure."""
    return _told(Revision.objects.filter(procedure=procedure))


def of_collection(collection: Collection) -> list[Told]:
    """Return what is in a collection, the newest first: what is frozen, and the latest of the rest."""
    items = CollectionItem.objects.filter(collection=collection)
    frozen = Q(pk__in=items.filter(revision__isnull=False).values("revision"))
    latest = Q(pk__in=items.filter(revision=None).values("procedure__latest"))
    return _told(Revision.objects.filter(frozen | latest))


def _told(revisions: QuerySet[Revision]) -> list[Told]:
    # Asked of each revision, the newest first, and not of every procedure that is public: there may be many.
    public = Procedure.objects.filter(
        pk=OuterRef("procedure"), status=Procedure.Status.PUBLIC, hidden=None, latest__isnull=False
    )
    standing = revisions.filter(Exists(public), withdrawn=None, hidden=None)
    author = Coalesce("procedure__writer__username", "procedure__owner__username")
    rows = standing.order_by("-published_at", "-pk").values(
        "code",
        "number",
        "title",
        "note",
        "published_at",
        slug=F("procedure__slug"),
        author=author,
        summary=Cast(KT("document__summary"), CharField()),
        licence=Cast(KT("document__licence"), CharField()),
    )
    return [
        Told(**(one | {"summary": one["summary"] or "", "licence": one["licence"] or USUAL_LICENCE}))
        for one in rows[:MOST]
    ]
