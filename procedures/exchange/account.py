"""What the site keeps of a person: each room says so itself, for taking it away and for deleting it.

A room has one file in `belongings`, found by its being there, with one `BELONGINGS`. Every field of a model
that names a person is decided there once: a test holds the models against it.
"""

from __future__ import annotations

import importlib
import json
import pkgutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Literal

from django.contrib.auth.models import AbstractBaseUser
from django.core.files.storage import default_storage

from procedures.models import Picture

from . import belongings

LEFT = "a smith who has left"  # with spaces, as nobody who signs up can be called
# What becomes of a row when the person it names goes: it goes too, or stays and names nobody any more, or is
# another's from then on.
Fate = Literal["deleted", "unnamed", "handed over"]


@dataclass(frozen=True)
class Leaving:
    """What a person who goes decided: of what is published, and of the name in what others adapted."""

    keep_published: bool
    name_out: bool


@dataclass(frozen=True)
class Gathered:
    """One file of a person's own: `content` is read when it is packed, for photos do not fit in memory."""

    path: str
    content: bytes | Callable[[], bytes]

    def read(self) -> bytes:
        """Return what is in the file."""
        return self.content if isinstance(self.content, bytes) else self.content()


def as_json(path: str, value: Any) -> Gathered:
    """Return plain values as a file."""
    return Gathered(path, json.dumps(value, ensure_ascii=False, indent=2).encode())


def from_store(path: str, picture: Picture) -> Iterator[Gathered]:
    """Yield the widest file of a picture; nothing where it is missing."""
    name = picture.path(picture.widths[-1])

    def read() -> bytes:
        with default_storage.open(name) as file:
            content: bytes = file.read()
        return content

    if default_storage.exists(name):
        yield Gathered(path, read)


def _nothing_gathered(person: AbstractBaseUser) -> Iterator[Gathered]:
    return iter(())


def _nothing_told(person: AbstractBaseUser) -> Iterator[str]:
    return iter(())


def _nothing_to_do(person: AbstractBaseUser, leaving: Leaving) -> None:
    return None


@dataclass(frozen=True)
class Belongings:
    """What one room keeps of a person.

    `fields` decides for each field that names a person ("procedures.Run.owner") what becomes of its rows.
    `gather` yields the files that the person takes away; `told` says in a few words each what is there
    ("3 runs with their photos"). `erase` does before the account goes what the database does not do by
    itself: handing over, files, names in texts. `first` is for a room that has to hand things over before
    others delete them.
    """

    title: str
    fields: Mapping[str, Fate] = field(default_factory=dict)
    gather: Callable[[AbstractBaseUser], Iterator[Gathered]] = _nothing_gathered
    told: Callable[[AbstractBaseUser], Iterator[str]] = _nothing_told
    erase: Callable[[AbstractBaseUser, Leaving], None] = _nothing_to_do
    first: bool = False


@cache
def rooms() -> tuple[Belongings, ...]:
    """Return what every room keeps, in the order in which it is erased."""
    names = sorted(one.name for one in pkgutil.iter_modules(belongings.__path__))
    found = [importlib.import_module(f"{belongings.__name__}.{name}").BELONGINGS for name in names]
    return tuple(sorted(found, key=lambda one: not one.first))


def told(person: AbstractBaseUser) -> list[str]:
    """Return what the site keeps of a person, in a few words each."""
    return [line for one in rooms() for line in one.told(person)]


def gathered(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield every file of a person's own, beside the procedures."""
    for one in rooms():
        yield from one.gather(person)
