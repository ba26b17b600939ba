"""Where on the starting bar the metal of a segment was: slices that every transform carries along.

A slice says which length of which starting bar lies in which share of a segment's volume. Several
slices one after another are metal in a row; several over the same share are layers (a fold, a weld).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

_SLIVER = 1e-9  # of the metal asked for: less is the rounding of another place


@dataclass(frozen=True, slots=True)
class Slice:
    """Metal from `start` to `end` [mm] of the starting bar `bar`, in the volume share `low` to `high`.

    `start` > `end` when the metal now runs the other way. `share` is the part of the bar's own section
    that this is (a half after a split in two).
    """

    bar: str
    start: float
    end: float
    low: float = 0.0
    high: float = 1.0
    share: float = 1.0

    def at(self, fraction: float) -> float:
        """Return the place on the starting bar [mm] of the metal at this fraction of the segment's volume."""
        inside = (fraction - self.low) / (self.high - self.low)
        return self.start + (self.end - self.start) * min(max(inside, 0.0), 1.0)


def part_of(slices: Iterable[Slice], low: float, high: float) -> tuple[Slice, ...]:
    """Return the slices of the metal between two volume fractions, rescaled to 0..1."""
    span = high - low
    kept = []
    for one in slices:
        first, last = max(one.low, low), min(one.high, high)
        if span > 0 and last - first > _SLIVER * span:
            shares = (first - low) / span, (last - low) / span
            kept.append(Slice(one.bar, one.at(first), one.at(last), *shares, one.share))
    return tuple(kept)


def cut_at(slices: Iterable[Slice], shares: Sequence[float]) -> tuple[Slice, ...]:
    """Return the same slices, cut at those of these rising shares (0..1) that lie inside them."""
    cut: list[Slice] = []
    for one in slices:
        inside = [share for share in shares if one.low + _SLIVER < share < one.high - _SLIVER]
        for low, high in pairwise((one.low, *inside, one.high)):
            cut.append(Slice(one.bar, one.at(low), one.at(high), low, high, one.share))
    return tuple(cut)


def in_a_row(parts: Sequence[tuple[tuple[Slice, ...], float]]) -> tuple[Slice, ...]:
    """Return the slices of several runs of metal put end to end; each part is (slices, volume)."""
    total = sum(volume for _, volume in parts)
    if total <= 0:
        return ()
    slices: list[Slice] = []
    done = 0.0
    for own, volume in parts:
        slices += within(own, done / total, (done + volume) / total)
        done += volume
    return _joined([one for one in slices if one.high > one.low])  # a speck beside much metal has no width


def within(slices: Iterable[Slice], low: float, high: float) -> tuple[Slice, ...]:
    """Return the slices of metal that now fills the volume fractions `low` to `high` of a larger run."""
    span = high - low
    return tuple(replace(one, low=low + one.low * span, high=low + one.high * span) for one in slices)


def _joined(slices: Sequence[Slice]) -> tuple[Slice, ...]:
    """Join neighbours that are one run of the same bar, so that histories do not grow without end."""
    joined: list[Slice] = []
    for one in slices:
        last = joined[-1] if joined else None
        if last is not None and _one_run(last, one):
            joined[-1] = replace(last, end=one.end, high=one.high)
        else:
            joined.append(one)
    return tuple(joined)


def _one_run(first: Slice, second: Slice) -> bool:
    same = first.bar == second.bar and first.share == second.share
    meets = abs(first.end - second.start) < 1e-9 and abs(first.high - second.low) < 1e-9
    if not (same and meets):
        return False
    # only when the metal is as dense along both: otherwise the joint itself is worth remembering
    rate_1 = (first.end - first.start) / (first.high - first.low)
    rate_2 = (second.end - second.start) / (second.high - second.low)
    return abs(rate_1 - rate_2) <= 1e-9 * max(abs(rate_1), abs(rate_2))


def turned(slices: Iterable[Slice]) -> tuple[Slice, ...]:
    """Return the slices of the same metal seen from its other end."""
    return tuple(
        replace(one, start=one.end, end=one.start, low=1 - one.high, high=1 - one.low)
        for one in reversed(tuple(slices))
    )


def shared(slices: Iterable[Slice], share: float) -> tuple[Slice, ...]:
    """Return the slices of one part of a bar split lengthwise."""
    return tuple(replace(one, share=one.share * share) for one in slices)
