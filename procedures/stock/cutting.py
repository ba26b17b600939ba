"""Cutting lists: which lengths to cut from which bars, offcuts first, with as little new bar as can be.

An integer programme over cutting patterns. Where all patterns can be written down the answer is proven; where
there are too many, those that pay are found one by one (Gilmore and Gomory's column generation), which gives
a bound that no plan can beat, and the best plan from them. Lengths are reckoned in tenths of a mm,
pieces rounded up and bars down, so that no plan is ever too long.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from .patterns import Bar, Pattern, Programme, all_patterns

FINE, COARSE = 10, 1  # to a mm; the second for bars longer than any that is sold
LONG = 15_000.0  # mm
MOST_PATTERNS = 4000  # written down; more are looked for one by one
SECONDS = 1.4  # for the whole, then the best plan is told with its gap


class CuttingError(ValueError):
    """A list that cannot be cut; says why in a sentence."""

    def __init__(self, message: str, length: float = 0.0) -> None:
        super().__init__(message)
        self.length = length


@dataclass(frozen=True, slots=True)
class Wanted:
    """So many pieces of one length [mm], by a name."""

    name: str
    length: float
    count: int


@dataclass(frozen=True, slots=True)
class Shop:
    """What there is to cut from [mm]: lengths that bar is bought in, and offcuts on the rack, each once.

    Every cut takes `kerf`. `grip` is what a bar or an offcut loses to being held or squared at its end.
    """

    bars: tuple[float, ...]
    offcuts: tuple[float, ...] = ()
    kerf: float = 2.0
    grip: float = 0.0


@dataclass(frozen=True, slots=True)
class CutBar:
    """One bar and what is cut from it, the longest first; `left` is what remains of it [mm]."""

    length: float
    is_offcut: bool
    pieces: tuple[tuple[str, float], ...]
    left: float
    kerfs: float


@dataclass(frozen=True)
class Plan:
    """A cutting plan. `bound` is the least new bar that any plan can take [mm]."""

    bars: tuple[CutBar, ...]
    bound: float

    @property
    def bought(self) -> float:
        """New bar [mm]."""
        return sum(one.length for one in self.bars if not one.is_offcut)

    @property
    def is_proven(self) -> bool:
        """Whether no plan takes less new bar."""
        return self.bought <= self.bound + 0.5

    @property
    def gap(self) -> float:
        """By what share a better plan could at most take less."""
        return 0.0 if self.is_proven else 1 - self.bound / self.bought

    @property
    def used(self) -> float:
        """Length of the pieces [mm]."""
        return sum(length for one in self.bars for _, length in one.pieces)

    @property
    def left(self) -> float:
        """What is left of all bars [mm]."""
        return sum(one.left for one in self.bars)

    @property
    def kerfs(self) -> float:
        """What the saw takes [mm]."""
        return sum(one.kerfs for one in self.bars)


def cutting_plan(wanted: Sequence[Wanted], shop: Shop, *, seconds: float = SECONDS) -> Plan:
    """Return the plan with the least new bar, the best found in so many seconds. Raises CuttingError."""
    lengths = sorted({one.length for one in wanted if one.count > 0}, reverse=True)
    if not lengths:
        return Plan((), 0.0)
    _check(wanted, shop)
    demand = [sum(one.count for one in wanted if one.length == length) for length in lengths]
    fine = FINE if max((*shop.bars, *shop.offcuts)) <= LONG else COARSE
    kerf = ceil(shop.kerf * fine - 1e-6)
    sizes = [ceil(length * fine - 1e-6) + kerf for length in lengths]
    bars = [one for one in _bars(shop, kerf, fine) if one.room >= min(sizes)]
    written = all_patterns(sizes, demand, bars, MOST_PATTERNS)
    programme = Programme(sizes, demand, bars, seconds)
    try:
        chosen, bound = programme.from_all(written) if written is not None else programme.from_the_best()
    except ValueError as error:
        raise CuttingError(str(error)) from error
    return _plan(wanted, lengths, bars, chosen, bound / fine, shop)


def _bars(shop: Shop, kerf: int, fine: int) -> list[Bar]:
    """Return the bars; the last cut of a bar may run off its end, so that it has a kerf more room."""
    new = [(one, None) for one in sorted(set(shop.bars))]
    old = [(one, count) for one, count in sorted(Counter(shop.offcuts).items())]
    return [
        Bar(
            length=length,
            room=floor((length - shop.grip) * fine + 1e-6) + kerf,
            cost=0 if count else round(length * fine),
            count=count,
        )
        for length, count in (*old, *new)
    ]


def _check(wanted: Sequence[Wanted], shop: Shop) -> None:
    longest = max(wanted, key=lambda one: one.length)
    room = max((*shop.bars, *shop.offcuts), default=0.0) - shop.grip
    if longest.length > room + 1e-6:
        raise CuttingError("A piece is longer than any bar.", longest.length)
    if not shop.bars and sum(one.length * one.count for one in wanted) > sum(shop.offcuts):
        raise CuttingError("The offcuts do not reach, and no length of bar to buy is given.")


def _plan(
    wanted: Sequence[Wanted],
    lengths: Sequence[float],
    bars: Sequence[Bar],
    chosen: Sequence[Pattern],
    bound: float,
    shop: Shop,
) -> Plan:
    names = {
        length: [one.name for one in wanted for _ in range(one.count) if one.length == length]
        for length in lengths
    }
    cut = []
    for pattern in sorted(chosen, key=lambda one: (bars[one.bar].count is None, -one.used)):
        pieces = [
            (names[length].pop(0), length)
            for length, count in zip(lengths, pattern.counts, strict=True)
            for _ in range(count)
            if names[length]
        ]
        if not pieces:
            continue
        bar = bars[pattern.bar]
        used = sum(length for _, length in pieces)
        rest = bar.length - shop.grip - used
        kerfs = min(len(pieces) * shop.kerf, max(rest, 0.0))
        cut.append(CutBar(bar.length, bar.count is not None, tuple(pieces), max(rest - kerfs, 0.0), kerfs))
    return Plan(tuple(cut), min(bound, sum(one.length for one in cut if not one.is_offcut)))
