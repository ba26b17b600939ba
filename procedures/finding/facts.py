"""What a procedure is found by: words, traits that are counted, and figures that are compared.

All from the document and its replay, so that a search finds what the page says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from calculators.sections import Section
from procedures.engine.catalogue import gist
from procedures.engine.document import Document
from procedures.engine.operation import FAMILIES, Operation
from procedures.engine.replay import Frame, Replay
from procedures.engine.trade_words import plain
from procedures.planning.heat_plan import heat_plan
from procedures.planning.profile import default

from .tools import needs_of

_YEAR = re.compile(r"\b(1[0-9]{3}|20[0-9]{2})\b")
_CENTURY = re.compile(r"\b([1-9]|1[0-9]|2[01])(?:st|nd|rd|th)[ -]century", re.IGNORECASE)
_ENDINGS = {1: "st", 2: "nd", 3: "rd"}


@dataclass(frozen=True)
class Bar:
    """A bar that something starts from: its shape and its two sizes [mm]."""

    shape: str
    width: float
    thickness: float


@dataclass(frozen=True)
class FoundBy:
    """What a procedure is found by. Lengths in mm, time in minutes.

    `traits` are pairs of a kind and a value, each once; `thinnest` and `thickest` are of the bars' sides.
    `minutes` are those of fire and anvil, by the plan of an ordinary shop.
    """

    title: str
    words: str
    level: str
    heats: int
    minutes: float
    thinnest: float
    thickest: float
    traits: frozenset[tuple[str, str]]
    bars: tuple[Bar, ...]


def facts_of(document: Document, replayed: Replay) -> FoundBy:
    """Return what a procedure is found by."""
    frames = [frame for part in replayed.parts for frame in part.frames]
    plan = heat_plan(replayed, default())
    bars = tuple(dict.fromkeys(bar_of(part.section) for part in document.parts))
    planned = sum(frame.heats * part.part.quantity for part in replayed.parts for frame in part.frames)
    return FoundBy(
        title=document.title,
        words=plain("\n".join(dict.fromkeys(one for one in _words(document, frames) if one))),
        level=document.level,
        heats=planned,
        minutes=sum(one.minutes.typical * one.part.quantity for one in plan.parts) / 60,
        thinnest=min(one.thickness for one in bars),
        thickest=max(one.width for one in bars),
        traits=frozenset(_traits(document, frames)),
        bars=bars,
    )


def bar_of(section: Section) -> Bar:
    """Return a section as bars are compared: the larger size is the width."""
    sizes = section.width, section.thickness
    return Bar(section.shape, max(sizes), min(sizes))


def _kinds(frames: list[Frame]) -> list[type[Operation]]:
    return list(dict.fromkeys(type(one.operation) for one in frames if one.operation))


def _words(document: Document, frames: list[Frame]) -> Iterator[str]:
    """Yield all that is said in a procedure, and the names that the trade has for what is done."""
    yield document.summary
    yield from document.credits
    for part in document.parts:
        yield part.name
        yield part.material.title
        for step in part.steps:
            yield step.note
    for kind in _kinds(frames):
        yield kind.title
        yield from kind.synonyms
        yield FAMILIES[kind.family]
        yield gist(kind)
    if document.original:
        yield from document.original.words()


def _traits(document: Document, frames: list[Frame]) -> Iterator[tuple[str, str]]:
    yield "level", document.level
    yield "licence", document.licence
    for part in document.parts:
        yield "material", part.material.id
    for kind in _kinds(frames):
        yield "operation", kind.id
        yield "family", kind.family
        for need in needs_of(kind.tools):
            yield "need", need
            for tool in need.split("|"):
                yield "tool", tool
    if document.original:
        yield "reproduction", "yes"
        century = century_of(f"{document.original.date} {document.original.identity}")
        if century:
            yield "century", century


def century_of(text: str) -> str:
    """Return the century that an original is of, by the first date its author writes; "" for none."""
    named = _CENTURY.search(text)
    year = _YEAR.search(text)
    if named and (not year or named.start() < year.start()):
        number = int(named[1])
    elif year:
        number = (int(year[1]) - 1) // 100 + 1
    else:
        return ""
    teens = 10 <= number % 100 <= 20
    return f"{number}{'th' if teens else _ENDINGS.get(number % 10, 'th')} century"
