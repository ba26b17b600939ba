"""What a batch costs: metal, fuel, time, finish and margin, low, typical and high, from a heat plan.

Pure sums; the prices are who asks' own. Nothing in it is a price that anybody offers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from .plans import HeatPlan
from .ranges import NOTHING, UNSURE, Range, added, exactly, within

_HOUR = 3600.0  # s
_MINUTE = 60.0  # s


@dataclass(frozen=True, slots=True)
class Prices:
    """What is put in. Money in one currency; shares from 0; times in minutes.

    `metal` is the price of a kilogram by the key of a part. `waste` is the share bought beyond what goes into
    the pieces. `cold` is for each cold step of a piece, `each` for what else a piece takes, `setting_up` for
    the batch. `finish` is money for a piece, `other` for the batch.
    """

    pieces: int = 1
    metal: dict[str, float] = field(default_factory=dict)
    waste: float = 0.0
    fire_hour: float = 0.0
    hour: float = 0.0
    cold: float = 0.0
    each: float = 0.0
    setting_up: float = 0.0
    finish: float = 0.0
    other: float = 0.0
    margin: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the sheet: what, why so much, and the money of the batch."""

    key: str
    cost: Range
    minutes: Range = NOTHING
    mass: float = 0.0


@dataclass(frozen=True)
class Costs:
    """The sheet of a batch: its lines, and the sums of them."""

    prices: Prices
    lines: tuple[Line, ...]

    @property
    def before_margin(self) -> Range:
        """What it costs."""
        return added([one.cost for one in self.lines])

    @property
    def margin(self) -> Range:
        """What is put on it."""
        return self.before_margin.times(self.prices.margin)

    @property
    def total(self) -> Range:
        """The batch with its margin."""
        return self.before_margin + self.margin

    @property
    def a_piece(self) -> Range:
        """One of them."""
        return self.total.times(1 / self.prices.pieces)

    def line(self, key: str) -> Line:
        """Return a line by its key."""
        return next(one for one in self.lines if one.key == key)


def costs(plan: HeatPlan, masses: Sequence[tuple[str, float]], prices: Prices) -> Costs:
    """Return what a batch costs; `masses` are the keys of the parts and the bar each starts from [kg].

    A part is made as often as a piece needs it. The fire burns as long as hot work lasts.
    """
    often = {one.part.key: one.part.quantity for one in plan.parts}
    count = prices.pieces
    bought = {key: mass * often.get(key, 1) * count * (1 + prices.waste) for key, mass in masses}
    metal = sum(mass * prices.metal.get(key, 0.0) for key, mass in bought.items())
    hot = added([one.minutes.times(one.part.quantity) for one in plan.parts]).times(count / _MINUTE)
    cold_steps = sum(one.part.quantity * sum(step.kind == "cold" for step in one.steps) for one in plan.parts)
    cold = within(cold_steps * prices.cold * count, UNSURE)
    other = exactly(prices.each * count + prices.setting_up)
    worked = hot + cold + other
    return Costs(
        prices,
        (
            Line("metal", exactly(metal), mass=sum(bought.values())),
            Line("fuel", hot.times(prices.fire_hour * _MINUTE / _HOUR), hot),
            Line("time", worked.times(prices.hour * _MINUTE / _HOUR), worked),
            Line("finish", exactly(prices.finish * count)),
            Line("other", exactly(prices.other)),
        ),
    )
