"""How places are said in sentences: "the last 60 mm of the bar", "mark A of the hook"."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.wording import Sentence, say
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place, Position

from .phrases import listed


def owner_words(piece: Piece, name: str) -> str:
    """Return how a branch or group is said: "the bar", "left", "each of the arms"."""
    if name in piece.groups:
        return f"each of the {name}"
    return piece.branch(name).said if piece.has_branch(name) else name


def range_words(piece: Piece, place: Place) -> Sentence:
    """Return a range as a smith says it. Raises Unworkable where it is not on the piece."""
    on = owner_words(piece, place.on)
    length = piece.spans(place)[0].length
    if place.datum == "between":
        return say("{on} between marks {first} and {second}", on=on, first=place.mark, second=place.mark_to)
    if place.datum == "whole" or (place.length is None and place.datum != "mark"):
        whole = "the whole of {on}" if place.on in piece.groups else "all of {on}"
        if place.datum in ("start", "end") and place.offset:
            left = "first" if place.datum == "start" else "last"
            return say(f"{whole} but the {left} {{offset:length}}", on=on, offset=place.offset)
        return say(whole, on=on)
    if place.datum == "centre":
        return say("the middle {length:length} of {on}", on=on, length=length)
    if place.datum == "mark":
        return _from_mark(place, on, length)
    if place.offset:
        return say(
            "{length:length} of {on}, beginning {offset:length} from its {end}",
            on=on,
            length=length,
            offset=place.offset,
            end=place.datum,
        )
    nth = "first" if place.datum == "start" else "last"
    return say(f"the {nth} {{length:length}} of {{on}}", on=on, length=length)


def _from_mark(place: Place, on: str, length: float) -> Sentence:
    if place.toward == "both":
        return say(
            "{length:length} of {on}, half on each side of mark {mark}", on=on, length=length, mark=place.mark
        )
    if place.length is None and place.offset:
        return say(
            "{on} from {offset:length} beyond mark {mark} to its {end}",
            on=on,
            offset=place.offset,
            mark=place.mark,
            end=place.toward,
        )
    if place.offset:
        return say(
            "{length:length} of {on} toward its {end}, beginning {offset:length} from mark {mark}",
            on=on,
            length=length,
            end=place.toward,
            offset=place.offset,
            mark=place.mark,
        )
    if place.length is None:
        return say("{on} from mark {mark} to its {end}", on=on, mark=place.mark, end=place.toward)
    return say(
        "{length:length} of {on} from mark {mark} toward its {end}",
        on=on,
        length=length,
        mark=place.mark,
        end=place.toward,
    )


def points_words(piece: Piece, positions: Sequence[Position]) -> Sentence:
    """Return several points as a smith says them, to follow "at": "marks A, B and C of the bar"."""
    marks = [one.mark for one in positions if one.datum == "mark" and not one.offset]
    owners = {one.on for one in positions}
    if len(marks) == len(positions) > 1 and len(owners) == 1:
        return say("marks {marks} of {on}", marks=listed(marks), on=owner_words(piece, *owners))
    ends = {one.datum for one in positions}
    if len(positions) > 1 == len(owners) == len(ends) and all(_from_an_end(one) for one in positions):
        offsets = [say("{offset:length}", offset=one.offset) for one in positions]
        return say(
            "{offsets} from the {end} of {on}",
            offsets=listed(offsets),
            end=ends.pop(),
            on=owner_words(piece, *owners),
        )
    return listed([point_words(piece, one) for one in positions])


def _from_an_end(position: Position) -> bool:
    return position.datum in ("start", "end") and position.offset > 0


def point_words(piece: Piece, position: Position) -> Sentence:
    """Return a point as a smith says it, to follow "at"."""
    on = owner_words(piece, position.on)
    if position.datum == "mark":
        if not position.offset:
            return say("mark {mark} of {on}", mark=position.mark, on=on)
        return say(
            "{offset:length} from mark {mark} of {on}, toward its {end}",
            offset=position.offset,
            mark=position.mark,
            on=on,
            end=position.toward,
        )
    if position.datum == "centre":
        if not position.offset:
            return say("the middle of {on}", on=on)
        return say(
            "{offset:length} from the middle of {on}, toward its {end}",
            offset=position.offset,
            on=on,
            end=position.toward,
        )
    if not position.offset:
        return say("the {end} of {on}", end=position.datum, on=on)
    return say("{offset:length} from the {end} of {on}", offset=position.offset, end=position.datum, on=on)
