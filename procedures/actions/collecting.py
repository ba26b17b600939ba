"""Collections: put together, described, put in order, let go."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import IntegrityError, transaction
from django.db.models import Max
from django.utils.crypto import get_random_string

from procedures import editing
from procedures.models import Collection, CollectionItem, Guild, Procedure, Revision

from .saving import Refused

MOST_COLLECTIONS = 200  # of one person or one guild
MOST_ITEMS = 300


@transaction.atomic
def make_collection(
    *,
    title: str,
    about: str = "",
    status: str = Collection.Status.PRIVATE,
    guild: Guild | None = None,
    by: AbstractBaseUser,
) -> Collection:
    """Make an empty collection, one's own or a guild's. Raises Refused."""
    mine = Collection.objects.filter(guild=guild) if guild else Collection.objects.filter(owner_id=by.pk)
    if mine.count() >= MOST_COLLECTIONS:
        raise Refused(f"There are {MOST_COLLECTIONS} collections already. Let one go first.")
    # An address nobody guesses: what is unlisted is kept by its address alone.
    slug = f"{editing.key_from(title, 60)}-{get_random_string(8, 'abcdefghjkmnpqrstuvwxyz23456789')}"
    owner = None if guild else by.pk
    return Collection.objects.create(
        title=title, about=about, status=status, slug=slug, guild=guild, owner_id=owner
    )


def edit_collection(
    *, collection: Collection, title: str, about: str, status: str, by: AbstractBaseUser
) -> Collection:
    """Keep what a collection says of itself, and who reads it."""
    collection.title, collection.about, collection.status = title, about, status
    collection.save(update_fields=("title", "about", "status", "updated"))
    return collection


def delete_collection(*, collection: Collection, by: AbstractBaseUser) -> None:
    """Let a collection go; what was in it stays where it is."""
    Collection.objects.filter(pk=collection.pk).delete()


@transaction.atomic
def collect(
    *, collection: Collection, procedure: Procedure, revision: Revision | None = None, by: AbstractBaseUser
) -> CollectionItem:
    """Put a procedure at the end, at its latest revision or frozen at one. Raises Refused."""
    held = _locked(collection).items
    if held.count() >= MOST_ITEMS:
        raise Refused(f"“{collection.title}” holds {MOST_ITEMS} procedures already. Make another collection.")
    last = held.aggregate(last=Max("place"))["last"] or 0
    try:
        with transaction.atomic():
            made = held.create(procedure=procedure, revision=revision, place=last + 1)
    except IntegrityError:
        raise Refused(f"It is in “{collection.title}” already.") from None
    collection.save(update_fields=("updated",))
    return made


@transaction.atomic
def note_item(*, item: CollectionItem, note: str, revision: Revision | None, by: AbstractBaseUser) -> None:
    """Say something of a procedure in a collection, and freeze it at a revision; None is the latest."""
    item.note, item.revision = note, revision
    item.save(update_fields=("note", "revision"))
    item.collection.save(update_fields=("updated",))


@transaction.atomic
def move_item(*, item: CollectionItem, by_places: int, by: AbstractBaseUser) -> int:
    """Move a procedure in its collection, up (-1) or down (1); the first stays first. Return its new place.

    All are numbered anew, so that two windows that move at once cannot leave two at one place.
    """
    collection = _locked(item.collection)
    order = [one.pk for one in collection.items.all()]
    if item.pk not in order:
        return 0
    at = order.index(item.pk)
    to = min(max(at + by_places, 0), len(order) - 1)
    order.insert(to, order.pop(at))
    items = collection.items.in_bulk()
    for place, key in enumerate(order, 1):
        items[key].place = place
    CollectionItem.objects.bulk_update(items.values(), ("place",))
    collection.save(update_fields=("updated",))
    return to + 1


@transaction.atomic
def drop_item(*, item: CollectionItem, by: AbstractBaseUser) -> None:
    """Take a procedure out of a collection."""
    CollectionItem.objects.filter(pk=item.pk).delete()
    item.collection.save(update_fields=("updated",))


def _locked(collection: Collection) -> Collection:
    return Collection.objects.select_for_update().get(pk=collection.pk)
