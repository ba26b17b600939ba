"""The heat plan in words and figures, in the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import exp

from calculators.number_texts import decimal
from calculators.wording import UnitSystem, say
from procedures.engine.document import Document
from procedures.engine.frames import Replay
from procedures.learning import Lessons, scale_as_learnt
from procedures.planning.figures import FIRE_CHOICES, SKILLS
from procedures.planning.heat_plan import heat_plan
from procedures.planning.losses import PartLoss, losses_by_plan
from procedures.planning.plans import HeatPlan, PartPlan, StepPlan
from procedures.planning.profile import ShopProfile, default
from procedures.planning.ranges import Calibration
from procedures.planning.reasons import reason_of

from .heat_detail import Detail, detail_of
from .heat_remarks import remarks_on
from .heat_strip import Bars, bars_of
from .heat_words import NAMES, UNSAID, HeatWords, Said, blows_said, capital, heats_said, minutes_said

UsedHeats = Mapping[tuple[str, str], float]


def shop_for(document: Document, shop: ShopProfile | None = None) -> ShopProfile:
    """Return the shop a procedure is planned in: the one given, or a usual one with its author's fire."""
    if shop is not None:
        return shop
    return replace(default(), fire=document.scale.fire, hot_length=document.scale.hot_length)


@dataclass(frozen=True, slots=True)
class ShownPlan:
    """One step of the plan as the page shows it."""

    plan: StepPlan
    anchor: str
    title: str
    planned: str
    predicted: Said
    used: str
    blows: Said
    hammering: Said
    time: Said
    why: str
    bars: Bars | None

    @property
    def number(self) -> int:
        """The number of the step."""
        return self.plan.frame.number

    @property
    def is_hot(self) -> bool:
        """Whether it goes through the fire."""
        return self.plan.is_hot

    @property
    def shares(self) -> bool:
        """Whether its author does it in the heat of a step before."""
        return self.plan.shares


@dataclass(frozen=True, slots=True)
class ShownPartPlan:
    """One part: its steps, its sums as (label, typical, spread), and what is to be said of it."""

    name: str
    key: str
    steps: tuple[ShownPlan, ...]
    sums: tuple[tuple[str, str, str], ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShownLoss:
    """What a part loses and measures as planned and as predicted, each a pair of texts."""

    name: str
    scale: tuple[str, str]
    mass: tuple[str, str]
    length: tuple[str, str]
    comes_about: bool


class ShownHeatPlan:
    """The whole plan in a shop.

    `names` is the reader's table of heat colours, `used` the heats that runs counted, by part and step, and
    `by_steel` what the reader's own readings narrow the ranges by.
    """

    def __init__(
        self,
        replayed: Replay,
        shop: ShopProfile,
        units: UnitSystem,
        names: str = "chapman",
        used: UsedHeats | None = None,
        by_steel: Mapping[str, Calibration] | None = None,
    ) -> None:
        self.replayed, self.shop, self.by_steel = replayed, shop, by_steel or {}
        self.words = HeatWords(units, names)
        self.used: UsedHeats = used or {}

    @property
    def names(self) -> str:
        """The reader's table of heat colours."""
        return self.words.names

    @property
    def readings(self) -> int:
        """How many readings of the reader's own narrow the ranges: of the steel here with most."""
        steels = {one.start.material.title for one in self.replayed.parts}
        return max((one.readings for steel, one in self.by_steel.items() if steel in steels), default=0)

    @cached_property
    def plan(self) -> HeatPlan:
        """What it is made from."""
        return heat_plan(self.replayed, self.shop, by_steel=self.by_steel)

    @cached_property
    def parts(self) -> tuple[ShownPartPlan, ...]:
        """The parts that have steps."""
        return tuple(self._part(one) for one in self.plan.parts if one.steps)

    @property
    def has_used(self) -> bool:
        """Whether any run counted heats."""
        return bool(self.used)

    @cached_property
    def shop_words(self) -> tuple[str, ...]:
        """What is reckoned with, line by line."""
        shop, hammer, name_of = self.shop, self.shop.used, self.words.name_of
        fire = FIRE_CHOICES[shop.fire]
        lines = (
            say(
                "{who}, {hammer} of {energy} J, {rate:number} blows a second",
                who=capital(SKILLS[shop.skill]),
                hammer=hammer.title,
                energy=decimal(hammer.energy, 0),
                rate=hammer.rate,
            ),
            say(
                "Fire: {fire}, {heat:temperature}, {reach:length} hot at once",
                fire=fire[:1].lower() + fire[1:],
                heat=shop.fire_heat,
                reach=shop.reach,
            ),
            say(
                "Out of the fire at {start:temperature}, {first}; back at {stop:temperature}, {last}",
                start=shop.start,
                first=name_of(shop.start),
                stop=shop.stop,
                last=name_of(shop.stop),
            ),
        )
        return tuple(one.text(self.words.units) for one in lines)

    def detail(self, part: str, key: str) -> Detail | None:
        """Return one step with its curve, or None where there is none such or it is not hot."""
        found = self.plan.part(part)
        step = found.step(key) if found else None
        if step is None or not step.is_hot or step.limits is None:
            return None
        return detail_of(step, self.shop, self.words)

    def losses(self) -> list[ShownLoss]:
        """Return what the fire would take if the predicted heats were taken; nothing is changed by it."""
        return [self._loss(one) for one in losses_by_plan(self.replayed, self.plan)]

    def _loss(self, one: PartLoss) -> ShownLoss:
        units = self.words.units
        scale, mass = _both(units.mass, one.scale), _both(units.mass, one.mass)
        return ShownLoss(one.part.name, scale, mass, _both(units.length, one.length), one.comes_about)

    def own_loss(self, lessons: Lessons) -> list[tuple[str, str, str, int]]:
        """Return of each part whose steel was weighed: its name, the scale by own readings, how many."""
        found = []
        for part in self.plan.parts:
            belief = lessons.belief("loss", part.steps[0].frame.before.material.title if part.steps else "")
            if belief.n and part.steps:
                low, typical, high = (self.words.units.mass(one) for one in scale_as_learnt(part, belief))
                found.append((part.part.name, typical, f"{low} to {high}", belief.n))
        return found

    # -- parts and steps -------------------------------------------------------------------------

    def _part(self, part: PartPlan) -> ShownPartPlan:
        steps = tuple(self._step(part, one) for one in part.steps)
        sums = tuple(self._sums(part))
        return ShownPartPlan(part.part.name, part.part.key, steps, sums, remarks_on(part, self.words))

    def _sums(self, part: PartPlan) -> Iterator[tuple[str, str, str]]:
        heats, blows, minutes = heats_said(part.predicted), blows_said(part.blows), minutes_said(part.minutes)
        yield "Heats predicted", heats.typical, heats.spread
        yield "Heats planned", str(part.planned), ""
        if counted := [value for (key, _), value in self.used.items() if key == part.part.key]:
            yield "Heats used", decimal(sum(counted), 1), ""
        if part.blows.typical:
            yield "Blows", blows.typical, blows.spread
        yield "Fire and anvil", minutes.typical, minutes.spread

    def _step(self, part: PartPlan, step: StepPlan) -> ShownPlan:
        anchor = f"{part.part.key}-{step.key}"
        used = self.used.get((part.part.key, step.key))
        hot, hammered = step.is_hot, bool(step.hammering.typical)
        return ShownPlan(
            step,
            anchor,
            step.frame.title,
            str(step.planned) if hot else "",
            heats_said(step.predicted) if hot else UNSAID,
            decimal(used, 1) if used is not None else "",
            blows_said(step.blows) if step.blows.typical else UNSAID,
            self.words.seconds(step.hammering.times(step.frame.members)) if hammered else UNSAID,
            minutes_said(step.minutes) if hot else UNSAID,
            reason_of(step, self.shop).text(self.words.units) + self._own(step),
            bars_of(step, anchor, self._told(step)) if hot else None,
        )

    def _own(self, step: StepPlan) -> str:
        """Say that the heats of a step are by the reader's own count, where the work alone says otherwise."""
        own = self.by_steel.get(step.frame.before.material.title)
        if own is None or not own.heats.readings or step.kind != "forged" or step.need is None:
            return ""
        times = decimal(exp(own.heats.mean), 2)
        return f" The heats are {times} times what the work alone says, as you counted them."

    def _told(self, step: StepPlan) -> str:
        limits, heats = step.limits, heats_said(step.predicted)
        between = f", {self.words.heat(limits.start)} to {self.words.heat(limits.stop)}" if limits else ""
        spread = f" ({heats.spread})" if heats.spread else ""
        return f"{heats.typical} heats predicted{spread}, {step.planned} planned{between}"


def _both(say_it: Callable[[float], str], pair: tuple[float, float]) -> tuple[str, str]:
    return say_it(pair[0]), say_it(pair[1])


__all__ = ["NAMES", "Detail", "ShownHeatPlan", "shop_for"]
