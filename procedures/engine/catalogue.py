"""Every operation there is, and how to find one. A file in `operations/` is found by being there."""

from __future__ import annotations

import importlib
import pkgutil
import sys
from collections.abc import Sequence
from difflib import get_close_matches
from functools import cache

from . import operations
from .operation import FAMILIES, Operation, registry
from .trade_words import Typed, begins_a_word, plain

ALIKE = 0.6  # of 1: how much of a mistyped name must be right


@cache
def catalogue() -> dict[str, type[Operation]]:
    """Return all operations by id, in the order of their families and titles."""
    for module in pkgutil.iter_modules(operations.__path__):
        importlib.import_module(f"{operations.__name__}.{module.name}")
    order = list(FAMILIES)
    found = sorted(registry.values(), key=lambda one: (order.index(one.family), one.title))
    return {one.id: one for one in found}


def by_family() -> dict[str, tuple[type[Operation], ...]]:
    """Return all operations by the key of their family; families without any are left out."""
    kinds = catalogue().values()
    found = {key: tuple(one for one in kinds if one.family == key) for key in FAMILIES}
    return {key: them for key, them in found.items() if them}


def find(operation_id: str) -> type[Operation] | None:
    """Return the operation of this id, or None when there is none such."""
    return catalogue().get(operation_id)


def gist(kind: type[Operation]) -> str:
    """Return what an operation does in one line: what the first line of its file says after its title."""
    first = (sys.modules[kind.__module__].__doc__ or kind.help).partition("\n")[0]
    said = first.partition(": ")[2] or first
    return said[:1].upper() + said[1:]


# -- looking one up ----------------------------------------------------------------------------------


def search(text: str) -> tuple[type[Operation], ...]:
    """Return the operations that go by what was typed, the likeliest first; all of them for no words.

    Every word typed must begin a word of an operation's title, its synonyms or its help. Titles come before
    synonyms and those before help, and in each what is called just so comes first.
    """
    typed = Typed.of(text)
    if not typed.words:
        return tuple(catalogue().values())
    ranks = {kind: _rank(kind, typed) for kind in catalogue().values()}
    found = [(rank, kind) for kind, rank in ranks.items() if rank is not None]
    return tuple(kind for _, kind in sorted(found, key=lambda one: one[0]))


def nearest(text: str) -> tuple[str, ...]:
    """Return names that look like what was typed, for who mistyped one."""
    names = {plain(name): name for kind in catalogue().values() for name in (*kind.synonyms, kind.title)}
    return tuple(names[one] for one in get_close_matches(plain(text), names, cutoff=ALIKE))


def _rank(kind: type[Operation], typed: Typed) -> tuple[int, int] | None:
    """Return where an operation stands among those found, or None where it is not."""
    fields = _fields(kind.id)
    tiers = [_tier(word, [text for _, text in fields]) for word in typed.words]
    found = [one for one in tiers if one is not None]
    if len(found) < len(tiers):
        return None
    tier = max(found)
    return tier, min(map(typed.closeness, fields[tier][0]))


def _tier(word: str, texts: Sequence[str]) -> int | None:
    return next((tier for tier, text in enumerate(texts) if begins_a_word(word, text)), None)


@cache
def _fields(operation_id: str) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Return what an operation is looked up by, the most telling first: the names, and their plain text."""
    kind = catalogue()[operation_id]
    told = (gist(kind), kind.help, FAMILIES[kind.family])
    named = ((kind.title,), kind.synonyms or ("",), told)
    return tuple((names, plain(" | ".join(names))) for names in named)
