"""A bar seen as the two halves on either side of a place, each from there outwards."""

from __future__ import annotations

from dataclasses import replace

from procedures.engine.pieces.branch import Branch, End, in_order
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.pieces.turning import turned_round

from .parting import Cut


def halves(other: Piece, low: float, high: float) -> tuple[Piece, Piece]:
    """Return what lies before `low` and beyond `high` mm of a piece, each beginning where it is parted.

    What hangs on them goes along. The metal between is left to the caller.
    """
    name = other.root.name
    before = Cut(name, low, "start", 0.0).made(other, "")
    beyond = Cut(name, high, "end", 0.0).made(other, "")
    return turned_round(before), beyond


def end_taken_off(branch: Branch, end: End, length: float) -> Branch:
    """Return a branch without a length [mm] at an end that became something else, the metal to be accounted.

    Marks and features there come to lie at the new end.
    """
    left = branch.length - length
    if end == "end":
        segments, shift = branch.segments_between(0.0, left), 0.0
    else:
        segments, shift = branch.segments_between(length, branch.length), -length
    gone = {"metal": shift, "start": 0.0, "end": -length}
    marks = in_order((replace(one, at=one.at + gone[one.holds]) for one in branch.marks), left)
    features = tuple(one.moved(lambda at: min(max(at + shift, 0.0), left)) for one in branch.features)
    return replace(branch, segments=segments, marks=marks, features=features)


def parted_at_an_end(other: Piece, low: float, high: float) -> bool:
    """Whether one of the halves would be nothing."""
    return low < TOUCH or high > other.root.length - TOUCH
