"""Tokens by which programs act for the person."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures.exchange.account import Belongings, Gathered, as_json
from procedures.exchange.counting import counted
from procedures.models import ApiToken


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield what is known of each token; its secret is kept nowhere."""
    tokens = [
        {"name": one.name, "scopes": one.scopes, "made": one.made.isoformat()}
        for one in ApiToken.objects.filter(owner_id=person.pk)
    ]
    if tokens:
        yield as_json("tokens.json", tokens)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    count = ApiToken.objects.filter(owner_id=person.pk).count()
    yield from counted(count, "token", "of programs that act for you")


BELONGINGS = Belongings(
    title="Tokens", fields={"procedures.ApiToken.owner": "deleted"}, gather=gather, told=told
)
