"""Places as a smith says them: "last 80 mm of each of arms", "60 mm about mark A"."""

from __future__ import annotations

from calculators.wording import UnitSystem
from procedures.engine.operation import Operation
from procedures.engine.piece import Piece
from procedures.engine.place import Place, Position


def place_of(operation: Operation, piece: Piece, units: UnitSystem) -> str:
    """Return where a step works, in words; "" when it names no one place."""
    for name in operation.params():
        value = getattr(operation, name)
        if isinstance(value, Place):
            return said_range(value, piece, units)
        if isinstance(value, Position):
            return said_point(value, piece, units)
        if isinstance(value, tuple) and value and all(isinstance(one, Position) for one in value):
            if len(value) > 3:
                return f"{len(value)} places"
            return ", ".join(said_point(one, piece, units) for one in value)
    return ""


def said_range(place: Place, piece: Piece, units: UnitSystem) -> str:
    """Return a range in words."""
    on = _on(place.on, piece)
    long = units.length(place.length) if place.length is not None else ""
    away = f", {units.length(place.offset)} away from it" if place.offset else ""
    if place.datum == "whole":
        return f"all of {on}"
    if place.datum == "between":
        return f"{place.mark} to {place.mark_to} on {on}"
    if place.datum == "centre":
        return f"middle {long} of {on}" if long else f"all of {on}"
    if place.datum == "mark":
        if place.toward == "both":
            return f"{long} about {place.mark} on {on}"
        return f"{long or 'all'} from {place.mark} towards the {place.toward} of {on}{away}"
    first = "first" if place.datum == "start" else "last"
    if not place.offset:
        return f"{first} {long} of {on}" if long else f"all of {on}"
    begin = f"{units.length(place.offset)} from the {place.datum} of {on}"
    return f"{long}, {begin}" if long else f"all but the {first} {units.length(place.offset)} of {on}"


def said_point(position: Position, piece: Piece, units: UnitSystem) -> str:
    """Return a point in words."""
    on = _on(position.on, piece)
    far = units.length(position.offset) if position.offset else ""
    if position.datum in ("start", "end"):
        return f"{far} from the {position.datum} of {on}" if far else f"the {position.datum} of {on}"
    datum = "the middle" if position.datum == "centre" else position.mark
    if far:
        return f"{far} from {datum} towards the {position.toward} of {on}"
    return f"{datum} of {on}" if position.datum == "centre" else f"{datum} on {on}"


def _on(name: str, piece: Piece) -> str:
    return f"each of {name}" if name in piece.groups else name
