"""The tokens by which programs act for the person."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures.exchange.account import Belongings, Gathered, as_json
from procedures.models import ApiToken


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield what the tokens are for; no secret is kept, so none is told."""
    found = [
        {"name": one.name, "scopes": list(one.scopes), "made": one.made.isoformat()}
        for one in ApiToken.objects.filter(owner_id=person.pk)
    ]
    if found:
        yield as_json("tokens.json", found)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    names = list(ApiToken.objects.filter(owner_id=person.pk).values_list("name", flat=True))
    if names:
        yield f"what programs come in by: {', '.join(names)}"


BELONGINGS = Belongings(
    title="Tokens for programs", fields={"procedures.ApiToken.owner": "deleted"}, gather=gather, told=told
)
