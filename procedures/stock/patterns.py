"""Cutting patterns and the integer programme over them, solved by HiGHS. Lengths are whole numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, gcd
from time import monotonic

import highspy

TINY = 1e-7
_NODES = 40_000  # of the search for a pattern that pays


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar to cut: its length [mm], the room on it, what it costs, and how many there are (None: any)."""

    length: float
    room: int
    cost: int
    count: int | None


@dataclass(frozen=True, slots=True)
class Pattern:
    """How many pieces of each size are cut from the bar of this number, and the room they take."""

    bar: int
    counts: tuple[int, ...]
    used: int


def all_patterns(
    sizes: Sequence[int], demand: Sequence[int], bars: Sequence[Bar], most: int
) -> list[Pattern] | None:
    """Return every pattern to which no further piece can be added, or None where there are more than `most`."""
    found: list[Pattern] = []
    for number, bar in enumerate(bars):
        for counts, used in _filled(sizes, demand, bar.room):
            found.append(Pattern(number, counts, used))
            if len(found) > most:
                return None
    return found


def _filled(sizes: Sequence[int], demand: Sequence[int], room: int) -> Iterator[tuple[tuple[int, ...], int]]:
    """Yield (counts, room taken) of the patterns that nothing more goes into; sizes fall."""
    last = len(sizes) - 1

    def go(index: int, left: int, counts: tuple[int, ...]) -> Iterator[tuple[tuple[int, ...], int]]:
        most = min(demand[index], left // sizes[index])
        if index == last:
            full = (*counts, most)
            rest = left - most * sizes[index]
            spare = (size for size, have, want in zip(sizes, full, demand, strict=True) if have < want)
            if any(full) and all(size > rest for size in spare):
                yield full, room - rest
            return
        for count in range(most, -1, -1):
            yield from go(index + 1, left - count * sizes[index], (*counts, count))

    yield from go(0, room, ())


class Programme:
    """The least cost of bars from which the demand can be cut. Raises ValueError where it cannot be."""

    def __init__(
        self, sizes: Sequence[int], demand: Sequence[int], bars: Sequence[Bar], seconds: float
    ) -> None:
        self.sizes = sizes
        self.demand = demand
        self.bars = bars
        self.ends = monotonic() + seconds
        self.step = gcd(*(one.cost for one in bars)) or 1  # new bar comes in whole bars

    def from_all(self, patterns: Sequence[Pattern]) -> tuple[list[Pattern], float]:
        """Return (patterns to cut, the least cost there can be): all patterns are given."""
        chosen, bound = self._whole(patterns, 0.0)
        return chosen, self._rounded(bound)

    def from_the_best(self) -> tuple[list[Pattern], float]:
        """Return (patterns to cut, a cost that no plan goes below), from the patterns that pay."""
        patterns = list(self._first_patterns())
        seen = set(patterns)
        bound = 0.0
        while monotonic() < self.ends - 0.8:
            value, worth, limits = self._relaxed(patterns)
            new, gain = self._that_pay(worth, limits)
            bound = max(bound, value + gain)
            new = [one for one in new if one not in seen]
            if not new:
                break
            seen.update(new)
            patterns += new
        bound = self._rounded(bound)
        chosen, _ = self._whole(patterns, bound)
        return chosen, bound

    def _rounded(self, bound: float) -> float:
        return float(self.step * ceil(bound / self.step - 1e-6))

    # -- patterns --------------------------------------------------------------------------------

    def _first_patterns(self) -> Iterator[Pattern]:
        """Yield a pattern for each size alone, and those of putting the longest first into every bar."""
        for number, bar in enumerate(self.bars):
            for index, size in enumerate(self.sizes):
                count = min(self.demand[index], bar.room // size)
                if count:
                    counts = tuple(count if one == index else 0 for one in range(len(self.sizes)))
                    yield Pattern(number, counts, count * size)
            if bar.count is None:
                yield from self._longest_first(number)

    def _longest_first(self, number: int) -> Iterator[Pattern]:
        room = self.bars[number].room
        rest = [want if size <= room else 0 for want, size in zip(self.demand, self.sizes, strict=True)]
        while any(rest):
            left, counts = room, []
            for index, size in enumerate(self.sizes):
                count = min(rest[index], left // size)
                rest[index] -= count
                left -= count * size
                counts.append(count)
            yield Pattern(number, tuple(counts), room - left)

    def _that_pay(self, worth: Sequence[float], limits: Sequence[float]) -> tuple[list[Pattern], float]:
        """Return the patterns that would lower the cost, and by how much at most all of them could.

        `worth` is that of a piece of each size, `limits` that of one more of a bar there are few of.
        """
        found, gain = [], 0.0
        for number, bar in enumerate(self.bars):
            value, counts = _most_worth(self.sizes, self.demand, worth, bar.room)
            reduced = bar.cost - value - limits[number]
            if reduced < -TINY * max(bar.cost, 1000):
                used = sum(count * size for count, size in zip(counts, self.sizes, strict=True))
                found.append(Pattern(number, counts, used))
                least = min(size for size, want in zip(self.sizes, self.demand, strict=True) if want)
                most = bar.count or -(-sum(self.demand) // max(1, min(bar.room // least, 1)))
                gain += reduced * most
        return found, gain

    # -- solving ---------------------------------------------------------------------------------

    def _model(self, patterns: Sequence[Pattern], *, whole: bool) -> highspy.Highs:
        model = highspy.Highs()
        model.silent()
        inf = highspy.kHighsInf
        for want in self.demand:
            model.addRow(want, inf, 0, [], [])
        for bar in self.bars:
            model.addRow(-inf, inf if bar.count is None else bar.count, 0, [], [])
        rows = len(self.demand)
        for index, one in enumerate(patterns):
            entries = [(row, count) for row, count in enumerate(one.counts) if count]
            entries.append((rows + one.bar, 1))
            where, values = [row for row, _ in entries], [float(value) for _, value in entries]
            model.addCol(float(self.bars[one.bar].cost), 0.0, inf, len(entries), where, values)
            if whole:
                model.changeColIntegrality(index, highspy.HighsVarType.kInteger)
        return model

    def _relaxed(self, patterns: Sequence[Pattern]) -> tuple[float, list[float], list[float]]:
        """Return the cost with parts of bars allowed, the worth of a piece of each size and of each bar."""
        model = self._model(patterns, whole=False)
        model.run()
        if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise ValueError("There is not enough bar to cut them all from.")
        worth = list(model.getSolution().row_dual)
        rows = len(self.demand)
        return model.getObjectiveValue(), worth[:rows], worth[rows:]

    def _whole(self, patterns: Sequence[Pattern], bound: float) -> tuple[list[Pattern], float]:
        """Return whole bars cut by these patterns, and a bound on what they can cost."""
        model = self._model(patterns, whole=True)
        model.setOptionValue("time_limit", max(self.ends - monotonic(), 0.3))
        model.setOptionValue("threads", 1)
        model.setOptionValue("mip_rel_gap", 0.0)
        model.setOptionValue("mip_abs_gap", 0.5)
        if bound:
            model.setOptionValue("objective_target", bound + 0.5)
        model.run()
        values = list(model.getSolution().col_value)
        if not values or model.getInfo().primal_solution_status != 2:
            raise ValueError("There is not enough bar to cut them all from.")
        chosen = [one for one, value in zip(patterns, values, strict=True) for _ in range(round(value))]
        return chosen, model.getInfo().mip_dual_bound


def _most_worth(
    sizes: Sequence[int], demand: Sequence[int], worth: Sequence[float], room: int
) -> tuple[float, tuple[int, ...]]:
    """Return the pieces worth most that go into a room: (worth, count of each size), by branch and bound."""
    order = sorted(
        (index for index, one in enumerate(worth) if one > TINY),
        key=lambda index: -worth[index] / sizes[index],
    )
    best, best_counts = 0.0, [0] * len(sizes)
    counts = [0] * len(sizes)
    nodes = 0

    def go(at: int, left: int, value: float) -> None:
        nonlocal best, best_counts, nodes
        nodes += 1
        if value > best + TINY:
            best, best_counts = value, counts.copy()
        if at == len(order) or nodes > _NODES:
            return
        index = order[at]
        if value + left * worth[index] / sizes[index] <= best + TINY:
            return
        for count in range(min(demand[index], left // sizes[index]), -1, -1):
            counts[index] = count
            go(at + 1, left - count * sizes[index], value + count * worth[index])
        counts[index] = 0

    go(0, room, 0.0)
    return best, tuple(best_counts)
