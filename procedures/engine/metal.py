"""Whether two steps work the same metal: told by where on the starting bars it was, not by distances.

A distance along a branch means other metal after every step; the origin that segments carry does not.
"""

from __future__ import annotations

from dataclasses import dataclass

from .piece import Piece
from .place import Span
from .segment import Segment

_LEAST = 0.01  # mm of starting bar that two ranges must have in common; neighbours only touch


@dataclass(frozen=True, slots=True)
class Stretch:
    """A length of a starting bar, `low` to `high` mm from its start."""

    bar: str
    low: float
    high: float

    def meets(self, other: Stretch) -> bool:
        """Whether the two have metal in common."""
        common = min(self.high, other.high) - max(self.low, other.low)
        return self.bar == other.bar and common > _LEAST


def run_of(piece: Piece, span: Span) -> tuple[Segment, ...]:
    """Return the segments of a range; none where its branch is not on the piece."""
    if not piece.has_branch(span.branch):
        return ()
    return piece.branch(span.branch).segments_between(span.low, span.high)


def stretches(run: tuple[Segment, ...]) -> tuple[Stretch, ...]:
    """Return the lengths of starting bar whose metal is in a run."""
    return tuple(
        Stretch(one.bar, min(one.start, one.end), max(one.start, one.end))
        for segment in run
        for one in segment.origin
    )


def same_metal(then: Piece, first: Span, now: Piece, second: Span) -> bool:
    """Whether a range of a piece and one of the same piece at a later step have metal in common.

    The two halves of a split come from one length of bar. So where both branches are there at both times,
    they are two pieces of metal.
    """
    apart = first.branch != second.branch
    if apart and now.has_branch(first.branch) and then.has_branch(second.branch):
        return False
    there = stretches(run_of(now, second))
    return any(one.meets(other) for one in stretches(run_of(then, first)) for other in there)
