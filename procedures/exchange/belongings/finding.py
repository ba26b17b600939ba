"""Searches the person saved."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures.exchange.account import Belongings, Gathered, as_json
from procedures.models import SavedSearch


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield the searches, by their names."""
    found = list(SavedSearch.objects.filter(owner_id=person.pk).values("name", "query"))
    if found:
        yield as_json("searches.json", found)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    names = list(SavedSearch.objects.filter(owner_id=person.pk).values_list("name", flat=True))
    if names:
        yield f"what you saved to search for: {', '.join(names)}"


BELONGINGS = Belongings(
    title="Saved searches", fields={"procedures.SavedSearch.owner": "deleted"}, gather=gather, told=told
)
