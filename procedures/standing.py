"""Where people stand with the site and with one another: who may write, and who wants nothing of whom."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser, User
from django.db.models import Q, QuerySet
from django.utils import timezone

from .models import ShutOut, WritingBlock, WrittenWarning

Visitor = AbstractBaseUser | AnonymousUser
MODERATE = "procedures.moderate"


@dataclass(frozen=True)
class Standing:
    """What keeps a person from writing: a block, or a warning that was not read yet."""

    block: WritingBlock | None = None
    warning: WrittenWarning | None = None

    @property
    def may_write(self) -> bool:
        """Whether nothing does."""
        return self.block is None and self.warning is None


def blocks_now() -> QuerySet[WritingBlock]:
    """Return the blocks that hold now, those for good first, then those that hold longest."""
    holding = Q(until=None) | Q(until__gt=timezone.now())
    found = WritingBlock.objects.filter(holding, lifted=None, waits=False).select_related("user")
    return found.order_by("until", "-pk")


def standing_of(user: Visitor) -> Standing:
    """Return what keeps this user from writing; who is not signed in is not known, and not kept."""
    if not user.is_authenticated:
        return Standing()
    found = list(blocks_now().filter(user_id=user.pk))
    block = next((one for one in found if one.until is None), found[-1] if found else None)
    return Standing(block, WrittenWarning.objects.filter(user_id=user.pk, read=None).last())


def may_write(user: Visitor) -> bool:
    """Whether this user may write anything on the site."""
    return standing_of(user).may_write


def may_moderate(user: Visitor) -> bool:
    """Whether this user looks after the site."""
    return isinstance(user, User) and user.is_active and user.has_perm(MODERATE)


def unseen_by(user: Visitor, whose: str = "by") -> Q:
    """Return whose talk a user does not see: of whom they shut out, and of who shuts them out.

    `whose` is the field that names who said it.
    """
    if not user.is_authenticated:
        return Q(pk__in=())
    whom = ShutOut.objects.filter(by_id=user.pk).values("whom")
    by = ShutOut.objects.filter(whom_id=user.pk).values("by")
    return Q(**{f"{whose}__in": whom}) | Q(**{f"{whose}__in": by})


def keep_apart(user: Visitor, *others: int | None) -> bool:
    """Whether this user and any of the others want nothing of each other, whoever of them said so."""
    known = [one for one in others if one is not None]
    if not user.is_authenticated or not known:
        return False
    between = Q(by_id=user.pk, whom__in=known) | Q(whom_id=user.pk, by__in=known)
    return ShutOut.objects.filter(between).exists()
