"""Tokens for programs: made, used, taken back."""

from __future__ import annotations

from datetime import timedelta

from django.contrib.auth.models import AbstractBaseUser
from django.utils import timezone

from procedures.models import ApiToken
from procedures.models.token import digest_of, new_secret

from .saving import Refused

MOST_TOKENS = 20  # that one person has
NOTED_EVERY = timedelta(minutes=5)  # that a token was used


def make_token(*, name: str, writes: bool, days: int | None, by: AbstractBaseUser) -> tuple[ApiToken, str]:
    """Make a token that lasts so many days, or until it is taken back. Returns it and its secret.

    Raises Refused beyond a number of tokens.
    """
    if ApiToken.objects.filter(owner_id=by.pk).count() >= MOST_TOKENS:
        raise Refused(f"You have {MOST_TOKENS} tokens already. Take one back first.")
    secret = new_secret()
    expires = timezone.now() + timedelta(days=days) if days else None
    made = ApiToken.objects.create(
        owner_id=by.pk, name=name, writes=writes, digest=digest_of(secret), hint=secret[:8], expires=expires
    )
    return made, secret


def note_use(*, token: ApiToken) -> None:
    """Note that a token was used, now and then: a program may ask a thousand times a minute."""
    now = timezone.now()
    if token.used is None or now - token.used > NOTED_EVERY:
        ApiToken.objects.filter(pk=token.pk).update(used=now)


def take_token_back(*, token: ApiToken, by: AbstractBaseUser) -> None:
    """Let a token open nothing any more."""
    ApiToken.objects.filter(pk=token.pk, owner_id=by.pk).delete()
