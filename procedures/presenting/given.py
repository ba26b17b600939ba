"""Parameters in words: what each takes, and what one was given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from calculators.number_texts import SPACE, decimal
from calculators.wording import Sentence, UnitSystem, say
from procedures.engine.finding import Unworkable
from procedures.engine.parameters.params import Angles, Choice, Number, Param
from procedures.engine.pieces.metal_left import LENGTH_LIMIT
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place, Position
from procedures.engine.place_words import owner_words, point_words, range_words

_SHORT = 2  # words


# -- what a parameter takes --------------------------------------------------------------------------


def takes(param: Param, units: UnitSystem) -> str:
    """Return what a parameter takes, in a phrase: "a length", "a number from 0 to 95 %"."""
    if isinstance(param, Choice):
        return _or([label for _, label in param.choices])
    if isinstance(param, Number):
        return _number_taken(param, units)
    if isinstance(param, Angles):
        return f"angles up to {units.angle(param.most)} either way"
    return _TAKEN[param.kind]


_TAKEN = {
    "place": "a run of metal: all of it, so much from either end, about the middle, or by marks",
    "section": "a section: square, flat, round or another",
    "position": "a point: so far from an end, from the middle or from a mark",
    "positions": "a point or several: so far from an end, from the middle or from a mark",
    "marks": "one mark or several, each with its name and its place",
    "flag": "yes or no",
    "text": "a few words",
    "name": "a name",
    "names": "names, each another",
    "branch": "a branch, or a group to work each of its members",
    "part": "another part of the procedure",
    "numbers": "numbers above 0",
}


def _number_taken(param: Number, units: UnitSystem) -> str:
    noun = {"length": "a length", "angle": "an angle"}.get(param.kind, "a number")
    noun = "a temperature" if param.unit == "°C" else "a whole number" if param.whole else noun
    most = None if param.most == LENGTH_LIMIT else param.most
    low = param.least if param.least is not None else param.above
    told = low if param.kind == "length" else low is not None and (low != param.above or most is None)
    limits = [f"from {_number(param, low or 0, units)}"] if told else []
    if most is not None:
        last = _number(param, most, units)
        unit = SPACE + last.rpartition(SPACE)[2]
        limits = [one.removesuffix(unit) + " to" for one in limits] or ["up to"]
        limits.append(last)
    zero = ", or 0" if param.kind == "length" and param.least == 0 else ""
    return " ".join([noun, *limits]) + zero


def _number(param: Number, value: float, units: UnitSystem) -> str:
    if param.kind == "length":
        return units.length(value)
    if param.kind == "angle":
        return units.angle(value)
    if param.unit == "°C":
        return units.temperature(value)
    return decimal(value, 3) + (f"{SPACE}{param.unit}" if param.unit else "")


def _or(words: Sequence[str]) -> str:
    """Return words as a choice; long ones are set apart by more than a comma."""
    *first, last = words
    if any(len(one.split()) > _SHORT for one in words):
        return f"{'; '.join(first)}; or {last}"
    return f"{', '.join(first)} or {last}"


# -- what one was given ------------------------------------------------------------------------------


def said(param: Param, value: Any, piece: Piece, units: UnitSystem) -> str:
    """Return the value of a parameter on a piece, in words: "the last 40 mm of the bar", "□2 mm"."""
    if isinstance(param, Number):
        return _number(param, value, units)
    if isinstance(param, Choice):
        return dict(param.choices)[value]
    if param.kind == "numbers":
        return ", ".join(decimal(one, 3) for one in value)
    if isinstance(param, Angles):
        return ", ".join(units.angle(one) for one in value)
    told: Callable[[Any, Piece, UnitSystem], str] | None = _SAID.get(param.kind)
    return told(value, piece, units) if told else str(value)


def _place(value: Place, piece: Piece, units: UnitSystem) -> str:
    try:
        return range_words(piece, value).text(units)
    except Unworkable:
        return _off_the_piece(value, piece).text(units)


def _off_the_piece(value: Place, piece: Piece) -> Sentence:
    """Return a range that is not on the piece, as it was asked for."""
    on = owner_words(piece, value.on)
    if value.length is None:
        return say("{on}, from its {datum}", on=on, datum=value.datum)
    return say("{length:length} of {on}, from its {datum}", length=value.length, on=on, datum=value.datum)


def _point(value: Position, piece: Piece, units: UnitSystem) -> str:
    return point_words(piece, value).text(units)


def _points(value: Iterable[Position], piece: Piece, units: UnitSystem) -> str:
    return "; ".join(_point(one, piece, units) for one in value)


def _marks(value: Iterable[Any], piece: Piece, units: UnitSystem) -> str:
    return "; ".join(f"{one.name}, {_point(one.position, piece, units)}" for one in value)


def _part(value: str, piece: Piece, units: UnitSystem) -> str:
    other = piece.bench.get(value)
    return f"{value}, {part_words(other, units)}" if other else value


_SAID: dict[str, Callable[[Any, Piece, UnitSystem], str]] = {
    "place": _place,
    "position": _point,
    "positions": _points,
    "marks": _marks,
    "section": lambda value, piece, units: units.section(value),
    "branch": lambda value, piece, units: owner_words(piece, value),
    "part": _part,
    "names": lambda value, piece, units: ", ".join(value),
    "flag": lambda value, piece, units: "yes" if value else "no",
}


def stock_words(piece: Piece, units: UnitSystem) -> str:
    """Return the bar a piece started from: "□12 mm, 300 mm long"."""
    return f"{units.section(piece.stock.section)}, {units.length(piece.stock.length)} long"


def part_words(piece: Piece, units: UnitSystem) -> str:
    """Return a finished part by its bar where that is thickest, and its length: "□12 mm, 100 mm long"."""
    root = piece.root
    section = root.largest_between(0.0, root.length)
    return f"{units.section(section)}, {units.length(root.length)} long"
