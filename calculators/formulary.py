"""All formulas, found by their files: `formulas/bar_mass.py` holds the formula whose id is "bar_mass"."""

from __future__ import annotations

import re
from difflib import get_close_matches
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from calculators import formulas
from calculators.formula import GROUPS, Formula
from calculators.formula_words import words_of


@cache
def all_formulas() -> dict[str, type[Formula]]:
    """Return the formulas by id, in order of their ids.

    Raises TypeError when a file does not hold exactly one formula of its name.
    """
    found = {}
    for module in iter_modules(formulas.__path__):
        name = f"{formulas.__name__}.{module.name}"
        held = [
            value
            for value in vars(import_module(name)).values()
            if isinstance(value, type) and issubclass(value, Formula) and value.__module__ == name
        ]
        if [formula.id for formula in held] != [module.name]:
            raise TypeError(f"formulas/{module.name}.py must hold one formula with the id {module.name!r}.")
        found[module.name] = held[0]
    return dict(sorted(found.items()))


def formula(id: str) -> type[Formula]:
    """Return the formula of an id. Raises KeyError when there is none."""
    return all_formulas()[id]


def by_group() -> dict[str, list[type[Formula]]]:
    """Return the formulas under their groups, in the order of the groups."""
    found: dict[str, list[type[Formula]]] = {group: [] for group in GROUPS}
    for kind in all_formulas().values():
        found[kind.group].append(kind)
    return {group: sorted(kinds, key=lambda kind: kind.title) for group, kinds in found.items() if kinds}


def of_operation(operation: str) -> list[type[Formula]]:
    """Return the formulas that reckon for an operation of an id."""
    return [kind for kind in all_formulas().values() if operation in kind.operations]


def search(words: str) -> list[type[Formula]]:
    """Return the formulas that go by all of the words, those named so first."""
    wanted = words.lower().split()
    ranked = []
    for kind in all_formulas().values():
        title, trade = kind.title.lower(), " ".join(kind.words).lower()
        gist, group = words_of(kind).gist.lower(), GROUPS[kind.group].lower()
        places = (title, trade, f"{title} {trade} {gist} {group}")
        ranks = [rank for rank, place in enumerate(places) if _named(wanted, place)]
        if ranks:
            ranked.append((ranks[0], kind.title, kind))
    return [kind for *_, kind in sorted(ranked, key=lambda one: one[:2])]


def _named(wanted: list[str], place: str) -> bool:
    """Return whether each word wanted begins a word of a place."""
    there = re.findall(r"\w+", place)
    return all(any(word.startswith(one) for word in there) for one in wanted)


def nearest(words: str) -> list[str]:
    """Return trade words that look like what was typed."""
    known = {word.lower() for kind in all_formulas().values() for word in kind.words}
    return get_close_matches(words.lower(), sorted(known), n=3, cutoff=0.6)
