"""Cutting patterns and the integer programme over them, solved by HiGHS. Lengths are whole numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil, gcd
from time import monotonic

import highspy
import numpy as np

TINY = 1e-7


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
    """Return every pattern that no further piece goes into, or None where there are more than `most`."""
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
        self.seconds = seconds
        self.ends = monotonic() + seconds
        self.step = gcd(*(one.cost for one in bars)) or 1  # new bar comes in whole bars

    def from_all(self, patterns: Sequence[Pattern]) -> tuple[list[Pattern], float]:
        """Return (patterns to cut, the least cost there can be): all patterns are given."""
        chosen, bound = self._whole(patterns, 0.0)
        return chosen, self._rounded(bound)

    def from_the_best(self) -> tuple[list[Pattern], float]:
        """Return (patterns to cut, a cost that no plan goes below), from the patterns that pay."""
        patterns, bound, parts = self._paying()
        bound = self._rounded(bound)
        whole, rest, bars = self._whole_bars(patterns, parts)
        try:
            plan = whole + _filled_up(self.sizes, rest, bars)
        except ValueError:  # offcuts alone, that reach only when they are cut another way
            plan = []
        if plan and self._cost(plan) <= bound + 0.5:
            return plan, bound
        if any(rest):
            patterns += [one for one in self._for_the_rest(rest, bars) if one not in set(patterns)]
        chosen, _ = self._whole(patterns, bound)
        return min((one for one in (chosen, plan) if one), key=self._cost), bound

    def _cost(self, plan: Sequence[Pattern]) -> int:
        return sum(self.bars[one.bar].cost for one in plan)

    def _paying(self) -> tuple[list[Pattern], float, list[float]]:
        """Return the patterns found one by one, the least cost there can be, and the parts of bars of it."""
        patterns = list(dict.fromkeys(self._first_patterns()))
        seen = set(patterns)
        model = self._model(patterns, whole=False)
        bound = 0.0
        while True:
            value, worth, limits = _relaxed(model, len(self.demand))
            new, gain = self._that_pay(worth, limits)
            bound = max(bound, value + gain)
            new = [one for one in new if one not in seen]
            if not new or monotonic() > self.ends - self.seconds / 2:
                return patterns, bound, list(model.getSolution().col_value)
            for one in new:
                self._add(model, one)
            seen.update(new)
            patterns += new

    def _whole_bars(
        self, patterns: Sequence[Pattern], parts: Sequence[float]
    ) -> tuple[list[Pattern], list[int], list[Bar]]:
        """Return the whole bars of a plan of parts of bars, and the demand and the bars left after them."""
        rest = list(self.demand)
        counts = [one.count for one in self.bars]
        whole: list[Pattern] = []
        for one, part in zip(patterns, parts, strict=True):
            whole += [one] * int(part + TINY)
            for index, count in enumerate(one.counts):
                rest[index] = max(rest[index] - int(part + TINY) * count, 0)
            held = counts[one.bar]
            counts[one.bar] = None if held is None else max(held - int(part + TINY), 0)
        bars = [replace(one, count=held) for one, held in zip(self.bars, counts, strict=True)]
        return whole, rest, bars

    def _for_the_rest(self, rest: Sequence[int], bars: Sequence[Bar]) -> list[Pattern]:
        """Return patterns that pay for what is left after the whole bars."""
        again = Programme(self.sizes, rest, bars, self.ends - monotonic())
        try:
            return again._paying()[0]
        except ValueError:  # all offcuts are taken by the whole bars
            return []

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
        best = _most_worth(self.sizes, self.demand, worth, [one.room for one in self.bars])
        for number, (bar, (value, counts)) in enumerate(zip(self.bars, best, strict=True)):
            reduced = bar.cost - value - limits[number]
            if reduced < -TINY * max(bar.cost, 1000):
                used = sum(count * size for count, size in zip(counts, self.sizes, strict=True))
                found.append(Pattern(number, counts, used))
                gain += reduced * (bar.count or sum(self.demand))  # no plan has more bars than pieces
        return found, gain

    # -- solving ---------------------------------------------------------------------------------

    def _model(self, patterns: Sequence[Pattern], *, whole: bool) -> highspy.Highs:
        model = highspy.Highs()  # type: ignore[no-untyped-call]
        model.setOptionValue("output_flag", False)
        inf = highspy.kHighsInf
        for want in self.demand:
            model.addRow(want, inf, 0, [], [])
        for bar in self.bars:
            model.addRow(-inf, inf if bar.count is None else bar.count, 0, [], [])
        for index, one in enumerate(patterns):
            self._add(model, one)
            if whole:
                model.changeColIntegrality(index, highspy.HighsVarType.kInteger)
        return model

    def _add(self, model: highspy.Highs, one: Pattern) -> None:
        entries = [(row, float(count)) for row, count in enumerate(one.counts) if count]
        entries.append((len(self.demand) + one.bar, 1.0))
        where, values = [row for row, _ in entries], [value for _, value in entries]
        model.addCol(float(self.bars[one.bar].cost), 0.0, highspy.kHighsInf, len(entries), where, values)

    def _whole(self, patterns: Sequence[Pattern], bound: float) -> tuple[list[Pattern], float]:
        """Return whole bars cut by these patterns, and a bound on what they can cost."""
        model = self._model(patterns, whole=True)
        model.setOptionValue("time_limit", max(self.ends - monotonic(), 0.2))
        model.setOptionValue("mip_rel_gap", 0.0)
        model.setOptionValue("mip_abs_gap", 0.5)
        if bound:
            model.setOptionValue("objective_target", bound + 0.5)
        model.run()
        values = list(model.getSolution().col_value)
        if (
            not values
            or model.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible
        ):
            raise ValueError("There is not enough bar to cut them all from.")
        chosen = [one for one, value in zip(patterns, values, strict=True) for _ in range(round(value))]
        return chosen, model.getInfo().mip_dual_bound


def _relaxed(model: highspy.Highs, rows: int) -> tuple[float, list[float], list[float]]:
    """Return the cost with parts of bars allowed, the worth of a piece of each size and of each bar."""
    model.run()
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise ValueError("There is not enough bar to cut them all from.")
    worth = list(model.getSolution().row_dual)
    return model.getObjectiveValue(), worth[:rows], worth[rows:]


def _filled_up(sizes: Sequence[int], demand: Sequence[int], bars: Sequence[Bar]) -> list[Pattern]:
    """Return patterns that fill one bar after the other as full as can be, offcuts first."""
    rest, held = list(demand), [one.count for one in bars]
    plan: list[Pattern] = []
    while any(rest):
        best = _most_worth(sizes, rest, sizes, [one.room for one in bars])
        left = sum(count * size for count, size in zip(rest, sizes, strict=True))
        open_ones = [n for n, count in enumerate(held) if count != 0 and any(best[n][1])]
        if not open_ones:
            raise ValueError("There is not enough bar to cut them all from.")
        # The cheapest that takes all that is left; else an offcut; else what is filled best.
        number = min(
            open_ones,
            key=lambda n: (
                bars[n].cost > 0,
                best[n][0] < left,
                bars[n].cost if best[n][0] >= left else -best[n][0] / bars[n].room,
            ),
        )
        used = sum(count * size for count, size in zip(best[number][1], sizes, strict=True))
        plan.append(Pattern(number, best[number][1], used))
        rest = [want - count for want, count in zip(rest, best[number][1], strict=True)]
        count = held[number]
        held[number] = None if count is None else count - 1
    return plan


def _most_worth(
    sizes: Sequence[int], demand: Sequence[int], worth: Sequence[float], rooms: Sequence[int]
) -> list[tuple[float, tuple[int, ...]]]:
    """Return the pieces worth most that go into each room: (worth, count of each size), exactly.

    A knapsack for all rooms at once: what any number of a size up to its demand can be made of, 1, 2, 4 ...
    pieces at a time, is put on top of the best of the sizes before.
    """
    grain = gcd(*sizes)
    best = np.zeros(max(rooms) // grain + 1)
    taken: list[tuple[int, int, np.ndarray]] = []
    for index, size in enumerate(sizes):
        left, many = demand[index], 1
        while left > 0 and worth[index] > TINY:
            many = min(many, left)
            left -= many
            room = many * size // grain
            if room < len(best):
                better = best[: len(best) - room] + many * worth[index]
                takes = better > best[room:] + TINY
                best[room:] = np.where(takes, better, best[room:])
                taken.append((index, many, np.concatenate((np.zeros(room, dtype=bool), takes))))
            many *= 2
    return [
        (float(best[room // grain]), _traced(len(sizes), sizes, room // grain, grain, taken))
        for room in rooms
    ]


def _traced(
    kinds: int, sizes: Sequence[int], at: int, grain: int, taken: Sequence[tuple[int, int, np.ndarray]]
) -> tuple[int, ...]:
    """Return the count of each size that makes up the best of a room."""
    counts = [0] * kinds
    for index, many, takes in reversed(taken):
        if takes[at]:
            counts[index] += many
            at -= many * sizes[index] // grain
    return tuple(counts)
