"""Ranges of metal round a point, as a fire heats them."""

from __future__ import annotations

from collections.abc import Iterable

from .branch import Branch
from .place import Span
from .segment import TOUCH


def around(branch: Branch, low: float, high: float, reach: float) -> Span:
    """Return a range with `reach` mm added at both ends, as far as there is bar."""
    return Span(branch.name, max(low - reach, 0.0), min(high + reach, branch.length))


def merged(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Return the same ranges with those that overlap made one, so that no metal scales twice in a heat."""
    joined: list[Span] = []
    for span in sorted(spans, key=lambda one: (one.branch, one.low)):
        last = joined[-1] if joined else None
        if last and last.branch == span.branch and span.low <= last.high + TOUCH:
            joined[-1] = Span(last.branch, last.low, max(last.high, span.high))
        else:
            joined.append(span)
    return tuple(one for one in joined if one.length > TOUCH)
