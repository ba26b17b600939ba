"""What is read of collections, of who follows what, and of a person's public page; and as whom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser, User
from django.db.models import Count, Exists, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from procedures.access import may_keep_collection, membership_in
from procedures.models import Collection, CollectionItem, Follow, Guild, Membership, Procedure, Revision
from procedures.standing import unseen_by

from .procedures import public_procedures, readable_procedures

Visitor = AbstractBaseUser | AnonymousUser
HEAVY = ("procedure__document", "procedure__latest__document", "revision__document")
GONE = "It is not here any more: it was withdrawn or deleted, or is no longer open to you."
GONE_REVISION = "The revision it is frozen at was withdrawn."
UNLISTED = "It is unlisted, and not shown to the readers of a public collection."


@dataclass(frozen=True)
class ShownItem:
    """One place of a collection as somebody sees it: what is read there, or only why it is not.

    `procedure` and `revision` are None where this reader may not know what it is.
    """

    item: CollectionItem
    number: int
    procedure: Procedure | None = None
    revision: Revision | None = None
    said: str = ""

    @property
    def address(self) -> str:
        """Where it is read: a frozen one at the address of its revision."""
        if self.procedure is None or self.revision is None:
            return ""
        if self.item.revision_id is None:
            return self.procedure.get_absolute_url()
        self.revision.procedure = self.procedure
        return self.revision.get_absolute_url()


def guilds_edited(user: AbstractBaseUser) -> QuerySet[Guild]:
    """Return the guilds whose collections a user may make and change: those the user edits or keeps."""
    roles = (Membership.Role.KEEPER, Membership.Role.EDITOR)
    working = Membership.objects.filter(user_id=user.pk, role__in=roles)
    return Guild.objects.filter(pk__in=working.values("guild"))


def own_collections(user: Visitor) -> QuerySet[Collection]:
    """Return the collections that a user may change, the last changed first, with how much is in each."""
    if not user.is_authenticated:
        return Collection.objects.none()
    found = Collection.objects.filter(Q(owner_id=user.pk) | Q(guild__in=guilds_edited(user)))
    return _sized(found)


def public_collections() -> QuerySet[Collection]:
    """Return the collections that everybody may find, the last changed first, with how much is in each."""
    found = Collection.objects.filter(status=Collection.Status.PUBLIC, hidden=None)
    return _sized(found)


def collections_of_guild(guild: Guild, user: Visitor) -> QuerySet[Collection]:
    """Return a guild's collections: all for who is in it, those that are public for the others."""
    found = _sized(Collection.objects.filter(guild=guild))
    return found if membership_in(user, guild) else found.filter(status=Collection.Status.PUBLIC, hidden=None)


def _sized(collections: QuerySet[Collection]) -> QuerySet[Collection]:
    """Add how much is in each: counted for those that are shown alone, however many there are."""
    items = CollectionItem.objects.filter(collection=OuterRef("pk")).order_by().values("collection")
    size = Coalesce(Subquery(items.annotate(size=Count("pk")).values("size")), 0)
    return collections.select_related("owner", "guild").annotate(size=size).order_by("-updated", "-pk")


def shown_items(collection: Collection, user: Visitor) -> list[ShownItem]:
    """Return all places of a collection as this user sees them, whatever their number in two queries.

    A procedure that is unlisted is shown where the collection is not public, for who put it there gave its
    address away; in a public one it would be found by everybody.
    """
    known = collection.items.select_related(
        "procedure__owner", "procedure__writer", "procedure__guild", "procedure__latest", "revision"
    )
    items = list(known.defer(*HEAVY))
    keys = [one.procedure_id for one in items if one.procedure_id]
    readable = set(readable_procedures(user).filter(pk__in=keys).order_by().values_list("pk", flat=True))
    keeps = may_keep_collection(user, collection)
    return [_shown(one, number, collection, readable, keeps) for number, one in enumerate(items, 1)]


def _shown(
    item: CollectionItem, number: int, collection: Collection, readable: set[int], keeps: bool
) -> ShownItem:
    procedure = item.procedure
    if procedure is None or not procedure.is_published:
        return ShownItem(item, number, said=GONE)
    by_address = procedure.status == Procedure.Status.UNLISTED
    if procedure.pk not in readable and (not by_address or (collection.is_public and not keeps)):
        return ShownItem(item, number, said=GONE)
    revision = item.revision or procedure.latest
    if revision is None or revision.withdrawn or revision.hidden:
        return ShownItem(item, number, said=GONE_REVISION)
    return ShownItem(
        item, number, procedure, revision, UNLISTED if by_address and collection.is_public else ""
    )


def places_of(procedure: Procedure, collections: Iterable[Collection]) -> set[int]:
    """Return which of these collections have a procedure in them, by their keys."""
    held = CollectionItem.objects.filter(procedure=procedure, collection__in=list(collections))
    return set(held.values_list("collection", flat=True))


# -- following ---------------------------------------------------------------------------------------


def follows_of(user: Visitor) -> QuerySet[Follow]:
    """Return what a user follows that the user may still see, the last first.

    Nothing of people who want nothing of the user, nor of whom the user wants nothing.
    """
    if not user.is_authenticated:
        return Follow.objects.none()
    open_to_user = Q(procedure__status=Procedure.Status.UNLISTED, procedure__hidden=None)
    readable = Q(procedure__in=readable_procedures(user).order_by().values("pk"))
    own_guilds = Membership.objects.filter(user_id=user.pk).values("guild")
    guilds = Q(guild__listed=True, guild__hidden=None) | Q(guild__in=own_guilds)
    found = Follow.objects.filter(
        Q(by_id=user.pk) & (Q(person__is_active=True) | readable | open_to_user | guilds)
    )
    found = found.exclude(unseen_by(user, "person")).exclude(unseen_by(user, "procedure__owner"))
    known = found.select_related("person", "guild", "procedure__latest", "procedure__owner")
    return known.defer("procedure__document", "procedure__latest__document")


def is_followed(user: Visitor, thing: Procedure | Guild | User) -> bool:
    """Whether this user follows it."""
    return user.is_authenticated and followers_of(thing).filter(by_id=user.pk).exists()


def followers_of(thing: Procedure | Guild | User) -> QuerySet[Follow]:
    """Return who follows a thing: to be counted, and never told by name."""
    if isinstance(thing, Procedure):
        return Follow.objects.filter(procedure=thing)
    return (
        Follow.objects.filter(guild=thing)
        if isinstance(thing, Guild)
        else Follow.objects.filter(person=thing)
    )


def new_for(user: Visitor, *, since: datetime | None = None) -> QuerySet[Revision]:
    """Return the revisions of what a user follows that others published, the newest first.

    Only what the user may still read: what is public, or for a guild of the user's; what is unlisted where
    that very procedure is followed, since its address is known then. Nothing from before it was followed.
    """
    if not user.is_authenticated:
        return Revision.objects.none()
    mine = Follow.objects.filter(by_id=user.pk)
    author = Coalesce("procedure__writer", "procedure__owner")
    found = Revision.objects.annotate(author=author).filter(
        Exists(mine.filter(procedure=OuterRef("procedure"), since__lte=OuterRef("published_at")))
        | Exists(mine.filter(person=OuterRef("author"), since__lte=OuterRef("published_at")))
        | Exists(mine.filter(guild=OuterRef("procedure__guild"), since__lte=OuterRef("published_at"))),
        Q(procedure__in=readable_procedures(user).order_by().values("pk"))
        | Q(
            procedure__status=Procedure.Status.UNLISTED,
            procedure__in=mine.filter(procedure__isnull=False).values("procedure"),
        ),
        withdrawn=None,
        hidden=None,
        procedure__hidden=None,
        procedure__latest__isnull=False,
    )
    found = found.exclude(procedure__status=Procedure.Status.DRAFT).exclude(procedure__owner_id=user.pk)
    found = found.exclude(unseen_by(user, "procedure__owner")).exclude(by_id=user.pk)
    if since is not None:
        found = found.filter(published_at__gt=since)
    known = found.select_related("procedure__owner", "procedure__writer")
    return known.defer("document", "procedure__document").order_by("-published_at", "-pk")


# -- a person's public page --------------------------------------------------------------------------


def published_by(person: User) -> QuerySet[Procedure]:
    """Return what a person published for everybody, the newest first, without the documents."""
    wrote = Q(writer=person) | Q(owner=person, writer=None)
    return public_procedures().filter(wrote).defer("document", "latest__document")


def guilds_showing(person: User) -> QuerySet[Guild]:
    """Return the guilds whose page tells everybody of this person: those that others may find, and they keep.

    Who is in a guild without keeping it is told to its members alone.
    """
    kept = Membership.objects.filter(user=person, role=Membership.Role.KEEPER)
    return Guild.objects.filter(listed=True, hidden=None, pk__in=kept.values("guild"))
