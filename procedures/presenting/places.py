"""Where a step works, in words."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import Sentence, UnitSystem
from procedures.engine.finding import Unworkable
from procedures.engine.operation import Operation
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place, Position
from procedures.engine.place_words import point_words, range_words

SEVERAL = 3  # places are told one by one up to so many


def place_of(operation: Operation, piece: Piece, units: UnitSystem) -> str:
    """Return where a step works on a piece, in words; "" when that is no one place, or not on it."""
    try:
        said = [one.text(units) for one in _places(operation, piece)]
    except Unworkable:
        return ""  # the finding of the step says which place is not there
    return ", ".join(said) if len(said) <= SEVERAL else f"{len(said)} places"


def _places(operation: Operation, piece: Piece) -> Iterator[Sentence]:
    """Yield the place of the first parameter that says one."""
    for name in operation.params():
        value = getattr(operation, name)
        if isinstance(value, Place):
            yield range_words(piece, value)
            return
        points = value if isinstance(value, tuple) else (value,)
        if points and all(isinstance(one, Position) for one in points):
            for one in points:
                yield point_words(piece, one)
            return
