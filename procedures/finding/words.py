"""What was typed to find a procedure: words and phrases, and the other names that the trade has for them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from procedures.engine.catalogue import catalogue
from procedures.engine.trade_words import SMALL, plain, words_in

# Names of one thing on the two sides of the Atlantic and in different shops; common practice, no source.
SAME = (
    ("bick", "beak", "bickern", "horn"),
    ("swage", "swedge"),
    ("upset", "jump up", "staving", "stave", "knock down"),
    ("draw out", "draw down", "drawing down", "drawing out"),
    ("fagot", "faggot"),
    ("hot set", "hot chisel", "hot cutter"),
    ("hardy", "hardie"),
    ("pritchel", "pritchell"),
    ("leg vice", "post vice"),
    ("striker", "sledger", "hammerman"),
    ("forge weld", "fire weld", "fireweld"),
    ("clinker", "slag"),
    ("poker", "fire iron"),
    ("trivet", "pot stand"),
    ("firedog", "andiron"),
    ("hook", "crook"),
    ("bar", "stock"),
)
MOST_TERMS = 12
LEAST_PREFIX = 3  # letters of the last word, which may be the beginning of another
_QUOTED = re.compile(r'"([^"]*)"')


@dataclass(frozen=True)
class Term:
    """A word or phrase that must be there, in one of these forms; each is a run of words."""

    forms: tuple[tuple[str, ...], ...]
    begins: bool = False  # whether what is typed may go on


@dataclass(frozen=True)
class Asked:
    """What was typed, as terms that all must be there."""

    terms: tuple[Term, ...]

    @property
    def words(self) -> tuple[str, ...]:
        """Every word typed, once."""
        return tuple(dict.fromkeys(word for term in self.terms for word in term.forms[0]))


def asked_of(text: str) -> Asked:
    """Return what a text asks for. Any text at all can be typed; signs are nothing but the ends of words."""
    text = plain(text)
    quoted = [tuple(words_in(one)) for one in _QUOTED.findall(text)]
    loose = words_in(_QUOTED.sub(" ", text))
    runs = list(_runs(loose))
    runs = [run for run in runs if run[0] not in SMALL or len(run) > 1] or ([] if quoted else runs)
    terms = [Term((one,)) for one in quoted if one]
    terms += [Term(_forms(run)) for run in runs]
    if runs and loose[-1] == runs[-1][-1] and len(loose[-1]) >= LEAST_PREFIX:
        terms[-1] = replace(terms[-1], begins=True)
    return Asked(tuple(dict.fromkeys(terms))[:MOST_TERMS])


def _runs(words: list[str]) -> Iterable[tuple[str, ...]]:
    """Yield the words typed, those that are one name of the trade together."""
    at = 0
    while at < len(words):
        long = next((run for run in _long_names() if tuple(words[at : at + len(run)]) == run), None)
        run = long or (words[at],)
        yield run
        at += len(run)


def _forms(run: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Return a name and the others that mean the same, itself first."""
    return tuple(dict.fromkeys((run, *_others().get(run, ()))))


@cache
def _others() -> dict[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    found: dict[tuple[str, ...], tuple[tuple[str, ...], ...]] = {}
    for names in (*SAME, *_of_operations()):
        runs = tuple(dict.fromkeys(tuple(words_in(one)) for one in names))
        for run in runs:
            found[run] = tuple(dict.fromkeys((*found.get(run, ()), *runs)))
    return found


def _of_operations() -> Iterable[tuple[str, ...]]:
    """Yield the names of each operation that are more than one word: one word alone may mean much else."""
    for kind in catalogue().values():
        names = [one for one in (kind.title, *kind.synonyms) if " " in one.strip()]
        if len(names) > 1:
            yield tuple(names)


@cache
def _long_names() -> tuple[tuple[str, ...], ...]:
    """Return the names of several words, the longest first."""
    return tuple(sorted((run for run in _others() if len(run) > 1), key=len, reverse=True))
