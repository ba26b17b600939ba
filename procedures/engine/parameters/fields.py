"""Readers for the fields of a stored document: each returns the value or refuses it with its path."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from calculators.sections import Section, SectionError
from procedures.engine.pieces.metal_left import LENGTH_LIMIT

from .params import Length, Number, ParamError

KEY = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}", re.ASCII)

COUNT = Number("The quantity", least=1, most=999, whole=True)
HEATS = Number("The number of heats", least=0, most=200, whole=True)
VERSION_NUMBER = Number("The version", least=1, most=10_000, whole=True)
BAR_LENGTH = Length("The length of the bar", above=0, most=LENGTH_LIMIT, unit="mm")
SCALE_DEPTH = Length("The depth of scale", least=0, most=5, unit="mm")
HOT_LENGTH = Length("The hot length", least=10, most=5000, unit="mm")
DOOR = Length("The door of the fire", least=10, most=5000, unit="mm")
FIRE_LENGTHS = {"forging": SCALE_DEPTH, "welding": SCALE_DEPTH, "hot_length": HOT_LENGTH, "door": DOOR}


class DocumentError(ValueError):
    """A document that cannot be read; `path` leads to the fault, such as parts/0/steps/3/params/target."""

    def __init__(self, path: tuple[str | int, ...], message: str) -> None:
        self.path = "/".join(str(one) for one in path) or "(the document)"
        self.message = message
        super().__init__(f"{self.path}: {message}")


def object_of(
    stored: Any, path: tuple[str | int, ...], known: set[str], needed: tuple[str, ...] = ()
) -> Mapping[str, Any]:
    """Return the value if it is an object with the fields needed and no others. Raises DocumentError."""
    if not isinstance(stored, Mapping):
        raise DocumentError(path, "An object is needed here.")
    for key in needed:
        if key not in stored:
            raise DocumentError((*path, key), "This is missing.")
    strange = sorted(str(key) for key in stored if key not in known)
    if strange:
        raise DocumentError((*path, strange[0]), "There is no field of this name.")
    return stored


def list_of(stored: Any, path: tuple[str | int, ...], most: int) -> list[Any]:
    """Return the value if it is a list of at most so many entries. Raises DocumentError."""
    if not isinstance(stored, list):
        raise DocumentError(path, "A list is needed here.")
    if len(stored) > most:
        raise DocumentError(path, f"There are {len(stored)} entries; at most {most} are taken.")
    return stored


_CONTROL = re.compile(r"[\x00-\x1f]")
_CONTROL_BUT_LINES = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


def words_of(
    stored: Any, path: tuple[str | int, ...], most: int, *, needed: bool = False, lines: bool = False
) -> str:
    """Return the value if it is words within the limit. Raises DocumentError."""
    if not isinstance(stored, str):
        raise DocumentError(path, "Words are needed here.")
    if len(stored) > most:
        raise DocumentError(path, f"This is {len(stored)} characters long; at most {most} are kept.")
    if (_CONTROL_BUT_LINES if lines else _CONTROL).search(stored):
        raise DocumentError(path, "Control characters are not kept.")
    if needed and not stored.strip():
        raise DocumentError(path, "This must not be empty.")
    return stored


def one_of(stored: Any, path: tuple[str | int, ...], known: Mapping[str, Any]) -> str:
    """Return the value if it is one of the known words. Raises DocumentError."""
    if not isinstance(stored, str) or stored not in known:
        raise DocumentError(path, f"{str(stored)[:40]!r} is not one of {', '.join(known)}.")
    return stored


def number_of(stored: Any, path: tuple[str | int, ...], kind: Number) -> float:
    """Return the value as the number kind allows it. Raises DocumentError."""
    try:
        return float(kind.read(stored))
    except ParamError as error:
        raise DocumentError(path, error.message) from error


def key_of(stored: Any, path: tuple[str | int, ...]) -> str:
    """Return the value if it is a key. Raises DocumentError."""
    if not isinstance(stored, str) or not KEY.fullmatch(stored):
        raise DocumentError(path, "A key has 1 to 40 small letters, digits, - and _.")
    return stored


def section_of(stored: Any, path: tuple[str | int, ...]) -> Section:
    """Return the section of a stored object. Raises DocumentError."""
    if not isinstance(stored, Mapping):
        raise DocumentError(path, "A section is an object such as {'shape': 'square', 'side': 12}.")
    try:
        return Section.from_json(dict(stored))
    except SectionError as error:
        raise DocumentError(path, str(error)) from error
