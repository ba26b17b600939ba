"""Procedures by words, traits and figures: what is found, how much of what, and what may have been meant."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Count, Q, QuerySet
from rapidfuzz import fuzz, process

from procedures.engine.catalogue import catalogue
from procedures.engine.trade_words import words_in
from procedures.finding.facts import Bar
from procedures.finding.tools import is_met, needs
from procedures.finding.words import Asked
from procedures.models import Facts, FactsBar, Membership, Procedure, SavedSearch, Trait

from .full_text import matching
from .procedures import readable_procedures

MOST = 1000  # results that are ranked, counted and paged; the rest asks for a narrower search
SAME_SIZE = 0.04  # share by which a bar at hand may differ: 12 mm does for 1/2 in. and not for 10 mm
ALIKE = 75  # of 100: how much of a mistyped word must be right
VOCABULARY = 20_000  # words looked through for one that was mistyped


@dataclass(frozen=True)
class Wish:
    """What is looked for. Lengths in mm, minutes; None and empty ask for nothing.

    `traits` are values by kind: of one kind any will do, but each operation must be there. `owned` are tools:
    what needs others is left out.
    """

    asked: Asked = field(default_factory=lambda: Asked(()))
    traits: dict[str, tuple[str, ...]] = field(default_factory=dict)
    owned: frozenset[str] | None = None
    bar: Bar | None = None
    least: float | None = None
    most: float | None = None
    most_heats: int | None = None
    most_minutes: float | None = None
    newest_first: bool = False


ALL_OF = {"operation"}  # kinds of which each value chosen must be there


def found(wish: Wish, user: AbstractBaseUser | AnonymousUser) -> list[int]:
    """Return the keys of the procedures found that this user may read, the best MOST of them and one more.

    By how well the words fit where there are any, else the newest first.
    """
    facts = _wanted(_visible(user), wish)
    if wish.asked.terms:
        facts = matching(facts, wish.asked, ranked=not wish.newest_first)
    return list(facts.values_list("pk", flat=True)[: MOST + 1])


def shown(keys: Sequence[int], user: AbstractBaseUser | AnonymousUser) -> list[Procedure]:
    """Return procedures by their keys in that order, asking once more whether this user may read each."""
    rows = readable_procedures(user).filter(pk__in=keys).order_by()
    by_key = {one.pk: one for one in rows}
    return [by_key[one] for one in keys if one in by_key]


def counts(keys: Sequence[int]) -> dict[str, dict[str, int]]:
    """Return how many of these procedures have each trait: numbers by value by kind."""
    rows = Trait.objects.filter(facts__in=keys[:MOST]).values_list("kind", "value")
    told: dict[str, dict[str, int]] = {}
    for kind, value, number in rows.annotate(number=Count("pk")).order_by("kind", "-number", "value"):
        told.setdefault(kind, {})[value] = number
    return told


def _visible(user: AbstractBaseUser | AnonymousUser) -> QuerySet[Facts]:
    allowed = Q(for_all__in=(True,))  # not "= true": SQLite takes no index for a bare column
    if user.is_authenticated:
        guilds = list(Membership.objects.filter(user_id=user.pk).values_list("guild", flat=True))
        allowed |= Q(guild__in=guilds) if guilds else Q()
    return Facts.objects.filter(allowed)


def _wanted(facts: QuerySet[Facts], wish: Wish) -> QuerySet[Facts]:
    for kind, values in wish.traits.items():
        for some in [(one,) for one in values] if kind in ALL_OF else [values] if values else []:
            facts = facts.filter(pk__in=Trait.objects.filter(kind=kind, value__in=some).values("facts"))
    if wish.owned is not None:
        unmet = [one for one in needs() if not is_met(one, wish.owned)]
        facts = facts.exclude(pk__in=Trait.objects.filter(kind="need", value__in=unmet).values("facts"))
    if wish.bar is not None:
        near = {
            f"{side}__range": (size * (1 - SAME_SIZE), size * (1 + SAME_SIZE))
            for side, size in (("width", wish.bar.width), ("thickness", wish.bar.thickness))
        }
        bars = FactsBar.objects.filter(shape=wish.bar.shape, **near)
        facts = facts.filter(pk__in=bars.values("facts"))
    limits = {
        "thinnest__gte": wish.least,
        "thickest__lte": wish.most,
        "heats__lte": wish.most_heats,
        "minutes__lte": wish.most_minutes,
    }
    return facts.filter(**{name: value for name, value in limits.items() if value is not None})


# -- what was meant ----------------------------------------------------------------------------------


def meant(asked: Asked) -> str:
    """Return the search that may have been meant where nothing goes by a word typed, or ""."""
    known = _vocabulary()
    words = []
    for word in asked.words:
        near = process.extractOne(word, known, scorer=fuzz.ratio, score_cutoff=ALIKE)
        words.append(near[0] if near else word)
    return " ".join(words) if words and words != list(asked.words) else ""


def _vocabulary() -> list[str]:
    """Return the words that titles hold and operations go by."""
    titles = Facts.objects.filter(for_all=True).values_list("title", flat=True)[:VOCABULARY]
    names = (name for kind in catalogue().values() for name in (kind.title, *kind.synonyms))
    return list(dict.fromkeys(word for text in (*names, *titles) for word in words_in(text)))


# -- searches that are kept ----------------------------------------------------------------------------


def searches(user: AbstractBaseUser | AnonymousUser) -> QuerySet[SavedSearch]:
    """Return the searches somebody keeps."""
    return SavedSearch.objects.filter(owner_id=user.pk if user.is_authenticated else None)


def new_since(keys: Sequence[int], search: SavedSearch) -> int:
    """Return how many of what a search finds were published since it was last looked at."""
    return Facts.objects.filter(pk__in=keys[:MOST], published_at__gt=search.looked).count()
