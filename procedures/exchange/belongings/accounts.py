"""The account itself: its name and addresses, and where it is signed in."""

from __future__ import annotations

from collections.abc import Iterator

from allauth.account.models import EmailAddress
from django.contrib.auth.models import AbstractBaseUser, User
from django.contrib.sessions.models import Session

from procedures.exchange.account import Belongings, Gathered, Leaving, as_json


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield what is known of the person beside what they made."""
    found = User.objects.get(pk=person.pk)
    addresses = EmailAddress.objects.filter(user=found)
    told = {
        "format": "forgesite.account",
        "version": 1,
        "name": found.username,
        "joined": found.date_joined.isoformat(),
        "last_signed_in": found.last_login.isoformat() if found.last_login else None,
        "addresses": [
            {"email": one.email, "main": one.primary, "confirmed": one.verified} for one in addresses
        ],
    }
    yield as_json("account.json", told)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    yield "your name here, your e-mail addresses and your password, which is kept scrambled"


def erase(person: AbstractBaseUser, leaving: Leaving) -> None:
    """End every session of the person, in this browser and others."""
    ended = [
        one.pk
        for one in Session.objects.iterator(chunk_size=500)
        if one.get_decoded().get("_auth_user_id") == str(person.pk)
    ]
    Session.objects.filter(pk__in=ended).delete()


BELONGINGS = Belongings(
    title="Account",
    fields={
        "account.EmailAddress.user": "deleted",
        "auth.User_groups.user": "deleted",
        "auth.User_user_permissions.user": "deleted",
    },
    gather=gather,
    told=told,
    erase=erase,
)
