"""Collections a person put together, whom and what they follow, how often they want mail."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures.exchange.account import Belongings, Gathered, as_json
from procedures.exchange.counting import counted
from procedures.models import Collection, CollectionItem, DigestWish, Follow


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield one file of it all."""
    wish = DigestWish.objects.filter(pk=person.pk).first()
    follows = Follow.objects.filter(by_id=person.pk).select_related("procedure", "person", "guild")
    kept = {
        "collections": [
            _collection(one)
            for one in Collection.objects.filter(owner_id=person.pk).prefetch_related(
                "items__procedure", "items__revision"
            )
        ],
        "follows": [_followed(one) | {"since": one.since.isoformat()} for one in follows],
        "mail": wish.often if wish else "",
    }
    if any(kept.values()):
        yield as_json("keeping.json", kept)


def _collection(one: Collection) -> dict[str, object]:
    return {
        "title": one.title,
        "about": one.about,
        "status": one.status,
        "made": one.made.isoformat(),
        "items": [_item(item) for item in one.items.all()],
    }


def _item(one: CollectionItem) -> dict[str, object]:
    return {
        "procedure": one.procedure.slug if one.procedure else None,
        "revision": one.revision.number if one.revision else None,
        "note": one.note,
    }


def _followed(one: Follow) -> dict[str, str]:
    if one.procedure:
        return {"procedure": one.procedure.slug}
    return {"person": one.person.get_username()} if one.person else {"guild": str(one.guild)}


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    yield from counted(Collection.objects.filter(owner_id=person.pk).count(), "collection", "you keep")
    yield from counted(Follow.objects.filter(by_id=person.pk).count(), "thing", "you follow")


BELONGINGS = Belongings(
    title="Collections and following",
    fields={
        "procedures.Collection.owner": "deleted",
        "procedures.Collection.hidden_by": "unnamed",
        "procedures.Follow.by": "deleted",
        "procedures.Follow.person": "deleted",
        "procedures.DigestWish.user": "deleted",
    },
    gather=gather,
    told=told,
)
