"""Following a procedure, a person or a guild; and no longer."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import AbstractBaseUser, User
from django.db import transaction
from django.db.models import Q

from procedures.models import Follow, Guild, Procedure
from procedures.standing import keep_apart

from .saving import Refused

MOST_FOLLOWS = 1000


@transaction.atomic
def follow(*, thing: Procedure | Guild | User, by: AbstractBaseUser) -> Follow:
    """Follow a procedure, a person or a guild; who does already still does. Raises Refused.

    Who is kept apart from its people does not. The followed never learns who, only how many.
    """
    if isinstance(thing, User) and thing.pk == by.pk:
        raise Refused("That is you.")
    whose = None if isinstance(thing, Guild) else thing.pk if isinstance(thing, User) else thing.owner_id
    if keep_apart(by, whose):
        raise Refused("You cannot follow this now.")
    if Follow.objects.filter(by_id=by.pk).count() >= MOST_FOLLOWS:
        raise Refused(f"You follow {MOST_FOLLOWS} already. Let one go first.")
    which: dict[str, Any] = {_kind(thing): thing}
    found, _ = Follow.objects.get_or_create(by_id=by.pk, **which)
    return found


def unfollow(*, thing: Procedure | Guild | User, by: AbstractBaseUser) -> None:
    """Follow it no longer."""
    Follow.objects.filter(by_id=by.pk, **{_kind(thing): thing}).delete()


def drop_follow(*, follow: int, by: AbstractBaseUser) -> None:
    """Follow something no longer, by the key of the follow, whether or not it may still be seen."""
    Follow.objects.filter(by_id=by.pk, pk=follow).delete()


def part_followers(*, one: AbstractBaseUser, other: AbstractBaseUser) -> None:
    """Let two people follow nothing of each other's any more: what shutting somebody out does."""
    for by, whose in ((one, other), (other, one)):
        Follow.objects.filter(Q(person_id=whose.pk) | Q(procedure__owner_id=whose.pk), by_id=by.pk).delete()


def _kind(thing: Any) -> str:
    return "procedure" if isinstance(thing, Procedure) else "guild" if isinstance(thing, Guild) else "person"
