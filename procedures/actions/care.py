"""Care: something reported, a warning read, another person shut out."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from procedures.models import Report, ShutOut, WrittenWarning
from procedures.queries.care import Thing

from .following import part_followers
from .saving import Refused

MOST_UNNAMED = 5  # reports of one thing by people who are not signed in, that wait
MOST_SHUT_OUT = 500


@transaction.atomic
def report(*, thing: Thing, reason: str, words: str, by: AbstractBaseUser | None) -> Report | None:
    """Report a thing to who looks after the site; None where enough strangers did so already.

    Who reports it again while the first report waits says it otherwise. Raises Refused for what is one's own.
    """
    if by is not None and by.pk in {one.pk for one in thing.people}:
        raise Refused("This is your own: change it or take it back.")
    told = {"title": thing.title, "was": thing.words, "about": thing.about, "reason": reason, "words": words}
    waiting = Report.objects.filter(kind=thing.kind, item=thing.item, closed=None)
    if by is None:
        if waiting.filter(by=None).count() >= MOST_UNNAMED:
            return None
        return Report.objects.create(kind=thing.kind, item=thing.item, **told)
    found, _ = Report.objects.update_or_create(
        kind=thing.kind, item=thing.item, by_id=by.pk, closed=None, defaults=told
    )
    return found


def read_warning(*, warning: int, by: AbstractBaseUser) -> None:
    """Say that one has read a warning, and may write again."""
    WrittenWarning.objects.filter(pk=warning, user_id=by.pk, read=None).update(read=timezone.now())


@transaction.atomic
def shut_out(*, person: AbstractBaseUser, by: AbstractBaseUser) -> ShutOut:
    """Want nothing more of a person, who is not told; neither follows the other any more. Raises Refused."""
    if person.pk == by.pk:
        raise Refused("That is you.")
    if ShutOut.objects.filter(by_id=by.pk).count() >= MOST_SHUT_OUT:
        raise Refused(f"You shut out {MOST_SHUT_OUT} people already. Let one in first.")
    found, _ = ShutOut.objects.get_or_create(by_id=by.pk, whom_id=person.pk)
    part_followers(one=by, other=person)
    return found


def let_back_in(*, person: int, by: AbstractBaseUser) -> None:
    """Take questions, answers, offers and thanks of a person again."""
    ShutOut.objects.filter(by_id=by.pk, whom_id=person).delete()
