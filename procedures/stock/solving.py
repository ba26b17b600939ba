"""Solving for the stock: what the bar must be so that a size comes out as wanted, by the whole sequence.

Every candidate is fed forward through the replay, so that scale, kerf, slugs and welds are in it, and a root
is one only because the replay came out so. Nearly every response is a straight line, which two replays give;
where it is not, the range round the root is looked through for others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from procedures.engine.document import Document
from procedures.engine.finding import Finding, Level
from procedures.engine.frames import Frame, PartReplay
from procedures.engine.replay import replay_part
from procedures.engine.scale import Estimate

from .target import Target
from .unknown import NoSuchSize, Unknown

EXACT = 1e-7  # mm or kg: how near the size must come out
STRAIGHT = 1e-6  # of the size wanted: three points this near to a line are on one
ROUNDS = 40
FIRST_STEP = 1.1  # by which the first guess is changed to see what it does
_SLOW = 0.1  # of a miss: one that falls to less by each trial needs no halving
LOOKED_THROUGH = 16  # values at which a bent response is looked at for more roots
HOW_FAR = 3.0  # times the root, and a part of it as small


@dataclass(frozen=True)
class Trial:
    """One value tried: the part as it comes out, and the size then (None: it does not come about)."""

    value: float
    document: Document | None
    replayed: PartReplay | None
    measured: float | None

    @property
    def stop(self) -> tuple[Frame, Finding] | None:
        """What stopped it, with its frame."""
        for frame in self.replayed.frames if self.replayed else ():
            for one in frame.of_level(Level.STOP):
                return frame, one
        return None


@dataclass(frozen=True)
class Solved:
    """A root: the trial that came out as wanted. `others` are further values that do too."""

    trial: Trial
    slope: float
    straight: bool
    others: tuple[float, ...] = ()

    @property
    def value(self) -> float:
        """The value that was unknown [mm]."""
        return self.trial.value


class NoStock(Exception):
    """There is no such stock. `trials` are what was tried; `last` the nearest that can be worked, or None."""

    def __init__(self, why: str, trials: Sequence[Trial], last: Trial | None = None) -> None:
        super().__init__(why)
        self.why = why  # "fixed", "stopped", "limit", "bent"
        self.trials = tuple(trials)
        self.last = last


@dataclass
class Search:
    """One unknown of a part to be found so that a target comes out; counts its replays."""

    document: Document
    part: str
    target: Target
    unknown: Unknown
    nominal: bool = False
    estimate: Estimate = "typical"
    tried: dict[float, Trial] = field(default_factory=dict)
    starts: tuple[float, ...] = (1.0, 1.25, 1.6, 2.0, 0.8, 3.0, 0.6, 5.0, 0.4)  # times what it is now

    @property
    def replays(self) -> int:
        """How many values were tried."""
        return len(self.tried)

    def at(self, value: float) -> Trial:
        """Return what comes of a value."""
        if value not in self.tried:
            self.tried[value] = self._try(value)
        return self.tried[value]

    def _try(self, value: float) -> Trial:
        try:
            document = self.unknown.put(self.document, self.part, value)
        except NoSuchSize:
            return Trial(value, None, None, None)
        replayed = replay_part(document, self.part, nominal=self.nominal, estimate=self.estimate)
        return Trial(value, document, replayed, self.target.measured(replayed))

    def miss(self, trial: Trial) -> float:
        """Return by how much a trial that came about is off."""
        assert trial.measured is not None
        return trial.measured - self.target.value

    def solve(self, near: Solved | None = None) -> Solved:
        """Return the root; `near` is that of another estimate. Raises NoStock."""
        first = self._start(near)
        if abs(self.miss(first)) <= EXACT and near is not None:
            return Solved(first, near.slope, near.straight)
        second = self._second(first, near)
        slope = _slope(first, second)
        root = self._closed_in(first, second)
        points = [one for one in (first, second, root) if one.measured is not None]
        straight = near.straight if near else self._is_straight(points)
        others = () if straight or near else self._others(root)
        return Solved(root, slope, straight, others)

    # -- the first two points --------------------------------------------------------------------

    def _start(self, near: Solved | None) -> Trial:
        part = self.document.part(self.part)
        if part is None:
            raise NoSuchSize("There is no such part.")
        value = near.value if near else self.unknown.value(part)
        for times in self.starts:
            found = self.at(value * times)
            if found.measured is not None:
                return found
        raise NoStock("stopped", list(self.tried.values()))

    def _second(self, first: Trial, near: Solved | None) -> Trial:
        """Return another trial that came about, toward the target where the way there is known."""
        if near is not None and near.slope:
            found = self.at(first.value - self.miss(first) / near.slope)
            if found.measured is not None:
                return found
        ahead = self.miss(first) < 0
        for share in (1.0, 0.2, 0.02, 0.001):
            up, down = 1 + (FIRST_STEP - 1) * share, 1 - (FIRST_STEP - 1) * share
            for times in (up, down) if ahead else (down, up):
                found = self.at(first.value * times)
                if found.measured is not None:
                    return found
        raise NoStock("stopped", list(self.tried.values()), first)

    # -- closing in ------------------------------------------------------------------------------

    def _closed_in(self, one: Trial, two: Trial) -> Trial:
        if abs(self.miss(one)) <= EXACT:
            return one
        self._check_moves(one, two)
        slope = _slope(one, two)
        for _ in range(ROUNDS):
            if abs(self.miss(two)) <= EXACT:
                return two
            found = self._next(one, two, slope)
            if found.measured is None:
                found = self._toward(two, found)
            slope = _slope(two, found) or slope  # of the last two: they are the nearest to the root
            one, two = self._kept(one, two, found)
            if one.value == two.value:
                break
        if abs(self.miss(two)) <= EXACT:
            return two
        raise NoStock("bent", list(self.tried.values()), two)

    def _check_moves(self, one: Trial, two: Trial) -> None:
        if abs(self.miss(one) - self.miss(two)) <= EXACT * 10:
            raise NoStock("fixed", [one, two], two)

    def _next(self, one: Trial, two: Trial, slope: float) -> Trial:
        """Return the trial where a line through the last meets the target, or between two where it bends."""
        bracketed = self.miss(one) * self.miss(two) < 0
        value = two.value - self.miss(two) / slope if slope else 0.0
        low, high = sorted((one.value, two.value))
        if bracketed and not low < value < high:
            value = (low + high) / 2
        least, most = self.unknown.limits()
        if not least <= value <= most:
            far = least if value < least else most
            return Trial(far, None, None, None)
        return self.at(value)

    def _kept(self, one: Trial, two: Trial, found: Trial) -> tuple[Trial, Trial]:
        """Return two trials to go on from: on both sides of the target where there are such."""
        slow = abs(self.miss(found)) > _SLOW * abs(self.miss(two))
        for other in (two, one):
            if self.miss(other) * self.miss(found) < 0:
                far = abs(found.value - other.value) > 0.9 * abs(one.value - two.value)
                if other is one and far and slow:
                    middle = self.at((found.value + other.value) / 2)  # one end stands still: halve
                    if middle.measured is not None:
                        return (
                            (found, middle) if self.miss(middle) * self.miss(found) < 0 else (other, middle)
                        )
                return other, found
        return two, found

    def _toward(self, good: Trial, bad: Trial) -> Trial:
        """Return the last trial that comes about between one that does and one that does not.

        Raises NoStock where the target lies beyond it.
        """
        low, high = good, bad
        side = self.miss(good)
        for _ in range(ROUNDS):
            middle = self.at((low.value + high.value) / 2)
            if middle.measured is None:
                high = middle
            else:
                low = middle
                if self.miss(middle) * side <= 0:
                    return middle
            if abs(high.value - low.value) < 0.01:
                break
        raise NoStock("stopped" if high.replayed else "limit", [bad if bad.replayed else high], low)

    # -- is it the only one ----------------------------------------------------------------------

    def _is_straight(self, points: Sequence[Trial]) -> bool:
        """Whether three points that came about lie on a line; two are made three by one between them."""
        ordered = sorted({one.value: one for one in points}.values(), key=lambda one: one.value)
        if len(ordered) < 3:
            middle = self.at((ordered[0].value + ordered[-1].value) / 2)
            if middle.measured is None:
                return False
            ordered.insert(1, middle)
        first, middle, last = ordered[0], ordered[1], ordered[-1]
        share = (middle.value - first.value) / (last.value - first.value)
        line = self.miss(first) + share * (self.miss(last) - self.miss(first))
        return abs(line - self.miss(middle)) <= STRAIGHT * max(self.target.value, 1e-3)

    def _others(self, root: Trial) -> tuple[float, ...]:
        """Return further roots within reach of one, found where the miss changes its sign."""
        low, high = root.value / HOW_FAR, root.value * HOW_FAR
        ratio = (high / low) ** (1 / LOOKED_THROUGH)
        seen = [
            one for n in range(LOOKED_THROUGH + 1) if (one := self.at(low * ratio**n)).measured is not None
        ]
        found = []
        for one, two in pairwise(seen):
            if one.value < root.value < two.value or self.miss(one) * self.miss(two) >= 0:
                continue
            try:
                other = self._closed_in(one, two)
            except NoStock:
                continue
            if abs(other.value - root.value) > EXACT:
                found.append(other.value)
        return tuple(found)


def _slope(one: Trial, two: Trial) -> float:
    assert one.measured is not None
    assert two.measured is not None
    return (two.measured - one.measured) / (two.value - one.value) if two.value != one.value else 0.0


@dataclass(frozen=True)
class Answer:
    """The stock for a target: by how much the fire takes, low, typical and high; only typical if nominal."""

    typical: Solved
    low: Solved | None
    high: Solved | None
    replays: int

    @property
    def range(self) -> tuple[float, float]:
        """The least and the most it may take [mm]."""
        values = [one.value for one in (self.low, self.typical, self.high) if one]
        return min(values), max(values)


def solve(
    document: Document, part: str, target: Target, unknown: Unknown, *, nominal: bool = False
) -> Answer:
    """Return the stock that a target takes. Raises NoStock, and NoSuchSize for what is not there."""
    search = Search(document, part, target, unknown, nominal)
    typical = search.solve()
    replays = search.replays
    found: dict[str, Solved | None] = {"low": None, "high": None}
    if not nominal:
        estimates: tuple[Estimate, ...] = ("low", "high")
        for estimate in estimates:
            other = replace(search, estimate=estimate, tried={})
            try:
                found[estimate] = other.solve(typical)
            except NoStock:
                found[estimate] = None
            replays += other.replays
    return Answer(typical, found["low"], found["high"], replays)
