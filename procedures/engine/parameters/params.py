"""The kinds of parameter an operation may have: how each is declared, read, written and described.

A declaration is the whole truth about a parameter: the form, the JSON Schema, the limits and the help all
come from it. Stored values are in house units (mm, deg), sections and places as small objects.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from calculators.sections import Section, SectionError

NAME_LIMIT = 40
LIST_LIMIT = 40


class ParamError(ValueError):
    """A stored value that a parameter cannot take; `path` leads to the fault inside the value."""

    def __init__(self, message: str, path: tuple[str | int, ...] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.path = path

    def under(self, *path: str | int) -> ParamError:
        """Return the same error seen from one level further out."""
        return ParamError(self.message, (*path, *self.path))


@dataclass(frozen=True)
class Param:
    """One parameter: its label and help, whether it must be given, and what it takes."""

    label: str
    help: str = ""
    required: bool = True
    kind: ClassVar[str] = ""

    def read(self, value: Any) -> Any:
        """Return the value from its stored form. Raises ParamError."""
        raise ParamError(f"{self.label} cannot be read.")

    def write(self, value: Any) -> Any:
        """Return the stored form of a value."""
        return value

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the stored form."""
        return {}


@dataclass(frozen=True)
class Number(Param):
    """A plain number within limits; `above` is the limit it must exceed, `least` and `most` it may reach."""

    least: float | None = None
    above: float | None = None
    most: float | None = None
    whole: bool = False
    unit: str = ""
    kind: ClassVar[str] = "number"

    def read(self, value: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise ParamError(f"{self.label} must be a number, not {shown(value)}.")
        if abs(value) > 1e9 or not math.isfinite(value):  # in this order: 10**400 has no float
            raise ParamError(f"{self.label} must be an ordinary number, not {shown(value)}.")
        if self.whole and value != int(value):
            raise ParamError(f"{self.label} must be a whole number, not {value:g}.")
        for allowed, words in (
            (self.least is None or value >= self.least, f"at least {self.least}"),
            (self.above is None or value > self.above, f"more than {self.above}"),
            (self.most is None or value <= self.most, f"at most {self.most}"),
        ):
            if not allowed:
                raise ParamError(f"{self.label} must be {words}{self._unit()}, not {value:g}{self._unit()}.")
        return int(value) if self.whole else float(value)

    def _unit(self) -> str:
        return f" {self.unit}" if self.unit else ""

    def schema(self) -> dict[str, Any]:
        limits = {"minimum": self.least, "exclusiveMinimum": self.above, "maximum": self.most}
        return {
            "type": "integer" if self.whole else "number",
            **{key: value for key, value in limits.items() if value is not None},
        }


@dataclass(frozen=True)
class Length(Number):
    """A length in mm."""

    kind: ClassVar[str] = "length"


@dataclass(frozen=True)
class Angle(Number):
    """An angle in degrees."""

    kind: ClassVar[str] = "angle"


@dataclass(frozen=True)
class Flag(Param):
    """Yes or no."""

    kind: ClassVar[str] = "flag"

    def read(self, value: Any) -> bool:
        if not isinstance(value, bool):
            raise ParamError(f"{self.label} must be true or false, not {shown(value)}.")
        return value

    def schema(self) -> dict[str, Any]:
        return {"type": "boolean"}


@dataclass(frozen=True)
class Choice(Param):
    """One of a few words, each with its label."""

    choices: tuple[tuple[str, str], ...] = ()
    kind: ClassVar[str] = "choice"

    def read(self, value: Any) -> str:
        known = [key for key, _ in self.choices]
        if value not in known:
            raise ParamError(f"{self.label} must be one of {', '.join(known)}, not {shown(value)}.")
        return str(value)

    def schema(self) -> dict[str, Any]:
        return {"enum": [key for key, _ in self.choices]}


@dataclass(frozen=True)
class Text(Param):
    """A short line of words."""

    limit: int = 200
    kind: ClassVar[str] = "text"

    def read(self, value: Any) -> str:
        return line_of(self.label, value, self.limit)

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "maxLength": self.limit}


@dataclass(frozen=True)
class Name(Text):
    """A name for something that the step makes: a mark, a branch, a group."""

    limit: int = NAME_LIMIT
    kind: ClassVar[str] = "name"

    def read(self, value: Any) -> str:
        return name_of(self.label, value)

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "minLength": 1, "maxLength": self.limit}


@dataclass(frozen=True)
class Names(Param):
    """Several names, each another."""

    least: int = 1
    most: int = LIST_LIMIT
    kind: ClassVar[str] = "names"

    def read(self, value: Any) -> tuple[str, ...]:
        items = items_of(self.label, value, self.least, self.most)
        names = []
        for index, item in enumerate(items):
            try:
                names.append(name_of(self.label, item))
            except ParamError as error:
                raise error.under(index) from error
        twice = sorted({one for one in names if names.count(one) > 1})
        if twice:
            raise ParamError(f"{self.label} must differ; {', '.join(twice)} is there more than once.")
        return tuple(names)

    def write(self, value: Any) -> Any:
        return list(value)

    def schema(self) -> dict[str, Any]:
        item = {"type": "string", "minLength": 1, "maxLength": NAME_LIMIT}
        return {
            "type": "array",
            "items": item,
            "minItems": self.least,
            "maxItems": self.most,
            "uniqueItems": True,
        }


@dataclass(frozen=True)
class SectionParam(Param):
    """A cross-section, stored by shape and dimensions."""

    kind: ClassVar[str] = "section"

    def read(self, value: Any) -> Section:
        if not isinstance(value, Mapping):
            raise ParamError(f"{self.label} must be a section such as a square of 12 mm.")
        try:
            return Section.from_json(dict(value))
        except SectionError as error:
            raise ParamError(f"{self.label}: {error}") from error

    def write(self, value: Any) -> Any:
        return value.to_json()

    def schema(self) -> dict[str, Any]:
        return {"$ref": "#/$defs/section"}


@dataclass(frozen=True)
class PartParam(Text):
    """The key of another part of the procedure, finished before this step."""

    limit: int = NAME_LIMIT
    kind: ClassVar[str] = "part"


@dataclass(frozen=True)
class BranchParam(Name):
    """A branch or a group that is on the piece when the step comes."""

    kind: ClassVar[str] = "branch"


@dataclass(frozen=True)
class Numbers(Param):
    """Several plain numbers above 0, in order."""

    kind: ClassVar[str] = "numbers"
    most: float = 1000.0

    def read(self, value: Any) -> tuple[float, ...]:
        one = Number(self.label, above=0, most=self.most)
        read = []
        for index, item in enumerate(items_of(self.label, value, 1, LIST_LIMIT)):
            try:
                read.append(float(one.read(item)))
            except ParamError as error:
                raise error.under(index) from error
        return tuple(read)

    def write(self, value: Any) -> Any:
        return list(value)

    def schema(self) -> dict[str, Any]:
        item = {"type": "number", "exclusiveMinimum": 0, "maximum": self.most}
        return {"type": "array", "items": item, "minItems": 1, "maxItems": LIST_LIMIT}


@dataclass(frozen=True)
class Angles(Param):
    """Several angles in degrees, in order."""

    kind: ClassVar[str] = "angles"
    most: float = 180.0

    def read(self, value: Any) -> tuple[float, ...]:
        one = Angle(self.label, least=-self.most, most=self.most, unit="degrees")
        return tuple(one.read(item) for item in items_of(self.label, value, 1, LIST_LIMIT))

    def write(self, value: Any) -> Any:
        return list(value)

    def schema(self) -> dict[str, Any]:
        item = {"type": "number", "minimum": -self.most, "maximum": self.most}
        return {"type": "array", "items": item, "minItems": 1, "maxItems": LIST_LIMIT}


# -- reading stored values ---------------------------------------------------------------------------


def shown(value: Any) -> str:
    """Return a value as it is quoted in a message."""
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "..."


def line_of(label: str, value: Any, limit: int) -> str:
    """Return the value if it is one line of words within the limit. Raises ParamError."""
    if not isinstance(value, str):
        raise ParamError(f"{label} must be words, not {shown(value)}.")
    if len(value) > limit:
        raise ParamError(f"{label} is {len(value)} characters long; at most {limit} are kept.")
    if any(ord(letter) < 32 for letter in value):
        raise ParamError(f"{label} must be one line without control characters.")
    return value


def name_of(label: str, value: Any) -> str:
    """Return the value if it can name something. Raises ParamError."""
    text = line_of(label, value, NAME_LIMIT).strip()
    if not text:
        raise ParamError(f"{label} needs a name.")
    return text


def items_of(label: str, value: Any, least: int, most: int) -> list[Any]:
    """Return the value if it is a list of so many entries. Raises ParamError."""
    if not isinstance(value, list | tuple):
        raise ParamError(f"{label} must be a list, not {shown(value)}.")
    if not least <= len(value) <= most:
        raise ParamError(f"{label} must have {least} to {most} entries, not {len(value)}.")
    return list(value)
