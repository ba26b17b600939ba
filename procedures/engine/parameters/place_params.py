"""The kinds of parameter that say where: ranges, points and marks, stored as small objects."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from procedures.engine.pieces.metal_left import LENGTH_LIMIT
from procedures.engine.pieces.place import Place, Position

from .params import (
    LIST_LIMIT,
    NAME_LIMIT,
    Length,
    Param,
    ParamError,
    items_of,
    line_of,
    name_of,
    shown,
)


@dataclass(frozen=True)
class PlaceParam(Param):
    """A range on a branch or on each branch of a group."""

    kind: ClassVar[str] = "place"
    datums: tuple[str, ...] = ("whole", "start", "end", "centre", "mark", "between")

    def read(self, value: Any) -> Place:
        given = _fields(self.label, value, {"on", "datum", "offset", "length", "mark", "mark_to", "toward"})
        datum = _word(self.label, given, "datum", self.datums, "whole")
        length = given.get("length")
        place = Place(
            on=name_of("Where", given.get("on")),
            datum=datum,  # type: ignore[arg-type]
            offset=_distance("offset", given.get("offset", 0.0)),
            length=None if length is None else _distance("length", length),
            mark=line_of("mark", given.get("mark", ""), NAME_LIMIT),
            mark_to=line_of("mark_to", given.get("mark_to", ""), NAME_LIMIT),
            toward=_word(self.label, given, "toward", ("start", "end", "both"), "end"),  # type: ignore[arg-type]
        )
        if datum in ("mark", "between") and not place.mark:
            raise ParamError(f"{self.label} is measured from a mark: name the mark.", ("mark",))
        if datum == "between" and not place.mark_to:
            raise ParamError(f"{self.label} runs between two marks: name the second.", ("mark_to",))
        return place

    def write(self, value: Place) -> Any:
        return _written(value, length=value.length)

    def schema(self) -> dict[str, Any]:
        return {"$ref": "#/$defs/place"}


@dataclass(frozen=True)
class PositionParam(Param):
    """A point on a branch or on each branch of a group."""

    kind: ClassVar[str] = "position"

    def read(self, value: Any) -> Position:
        return _position(self.label, value)

    def write(self, value: Position) -> Any:
        return _written(value)

    def schema(self) -> dict[str, Any]:
        return {"$ref": "#/$defs/position"}


@dataclass(frozen=True)
class Positions(Param):
    """One or more points, each worked alike."""

    kind: ClassVar[str] = "positions"
    most: int = LIST_LIMIT

    def read(self, value: Any) -> tuple[Position, ...]:
        read = []
        for index, item in enumerate(items_of(self.label, value, 1, self.most)):
            try:
                read.append(_position(self.label, item))
            except ParamError as error:
                raise error.under(index) from error
        return tuple(read)

    def write(self, value: Any) -> Any:
        return [_written(one) for one in value]

    def schema(self) -> dict[str, Any]:
        return {
            "type": "array",
            "items": {"$ref": "#/$defs/position"},
            "minItems": 1,
            "maxItems": self.most,
        }


@dataclass(frozen=True, slots=True)
class NamedPosition:
    """A mark to be put: its name and where."""

    name: str
    position: Position


@dataclass(frozen=True)
class Marks(Param):
    """Marks to be put, each with its name."""

    kind: ClassVar[str] = "marks"
    most: int = LIST_LIMIT

    def read(self, value: Any) -> tuple[NamedPosition, ...]:
        read = []
        for index, item in enumerate(items_of(self.label, value, 1, self.most)):
            try:
                given = _fields("A mark", item, {"name", "on", "datum", "offset", "mark", "toward"})
                name = name_of("The mark's name", given.pop("name", None))
                read.append(NamedPosition(name, _position(f"Mark {name}", given)))
            except ParamError as error:
                raise error.under(index) from error
        return tuple(read)

    def write(self, value: Any) -> Any:
        return [{"name": one.name, **_written(one.position)} for one in value]

    def schema(self) -> dict[str, Any]:
        return {"type": "array", "items": {"$ref": "#/$defs/mark"}, "minItems": 1, "maxItems": self.most}


# -- reading stored values ---------------------------------------------------------------------------


def _fields(label: str, value: Any, known: set[str]) -> dict[str, Any]:
    if not isinstance(value, Mapping):
        raise ParamError(f"{label} must say where, not {shown(value)}.")
    strange = sorted(set(value) - known)
    if strange:
        raise ParamError(f"{label} has an unknown field {strange[0]!r}.", (strange[0],))
    return dict(value)


def _word(label: str, given: Mapping[str, Any], key: str, known: tuple[str, ...], default: str) -> str:
    value = given.get(key, default)
    if value not in known:
        raise ParamError(f"{label}: {key} must be one of {', '.join(known)}, not {shown(value)}.", (key,))
    return str(value)


def _distance(key: str, value: Any) -> float:
    try:
        return float(Length(key.capitalize(), least=0.0, most=LENGTH_LIMIT, unit="mm").read(value))
    except ParamError as error:
        raise error.under(key) from error


def _position(label: str, value: Any) -> Position:
    given = _fields(label, value, {"on", "datum", "offset", "mark", "toward"})
    datum = _word(label, given, "datum", ("start", "end", "centre", "mark"), "end")
    position = Position(
        on=name_of("Where", given.get("on")),
        datum=datum,  # type: ignore[arg-type]
        offset=_distance("offset", given.get("offset", 0.0)),
        mark=line_of("mark", given.get("mark", ""), NAME_LIMIT),
        toward=_word(label, given, "toward", ("start", "end"), "end"),  # type: ignore[arg-type]
    )
    if datum == "mark" and not position.mark:
        raise ParamError(f"{label} is measured from a mark: name the mark.", ("mark",))
    return position


def _written(value: Place | Position, **always: Any) -> dict[str, Any]:
    stored: dict[str, Any] = {"on": value.on, "datum": value.datum}
    if value.offset:
        stored["offset"] = value.offset
    for key in ("mark", "mark_to"):
        if getattr(value, key, ""):
            stored[key] = getattr(value, key)
    if value.datum in ("mark", "centre") and value.toward != "end":
        stored["toward"] = value.toward
    stored.update({key: one for key, one in always.items() if one is not None})
    return stored
