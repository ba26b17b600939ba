"""Metal as steps find and leave it, told by where on the starting bars it was, not by distances.

A distance along a branch means other metal after every step; the origin that segments carry does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from .piece import Piece
from .place import Span
from .segment import Segment

_LEAST = 0.01  # mm of starting bar that two ranges must have in common; neighbours only touch

Run = tuple[Segment, ...]


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


@dataclass(frozen=True)
class Metal:
    """The metal of a range: its segments, and the lengths of starting bar that it was."""

    span: Span
    run: Run

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The lengths of starting bar it comes from, one for each slice of its history."""
        return tuple(
            Stretch(one.bar, min(one.start, one.end), max(one.start, one.end))
            for segment in self.run
            for one in segment.origin
        )

    def meets(self, other: Metal) -> bool:
        """Whether the two were the same length of a starting bar, at least in part."""
        return any(one.meets(two) for one in self.stretches for two in other.stretches)


def metal_of(piece: Piece, span: Span) -> Metal:
    """Return the metal of a range of a piece; none where its branch is not on the piece."""
    if not piece.has_branch(span.branch):
        return Metal(span, ())
    return Metal(span, piece.branch(span.branch).segments_between(span.low, span.high))


def same_metal(then: Piece, first: Metal, now: Piece, second: Metal) -> bool:
    """Whether metal of a piece is, at least in part, metal of the same piece at a later step.

    The two halves of a split come from one length of bar. So where both branches are there at both times,
    they are two pieces of metal.
    """
    if not first.meets(second):
        return False
    one, two = first.span.branch, second.span.branch
    return one == two or not (now.has_branch(one) and then.has_branch(two))
