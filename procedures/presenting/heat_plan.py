"""The heat plan in words and figures, in the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import floor, log10

from django.utils.safestring import SafeString

from calculators.formulas.heat_colour import chapman_name, stirling_name
from calculators.number_texts import SPACE, decimal
from calculators.wording import Sentence, UnitSystem, say
from procedures.engine.document import Document
from procedures.engine.frames import Replay
from procedures.engine.phrases import listed
from procedures.planning.curve import MOST as MOST_HEATS
from procedures.planning.curve import curve_of
from procedures.planning.figures import FIRE_CHOICES, SKILLS
from procedures.planning.heat_plan import heat_plan
from procedures.planning.losses import PartLoss, losses_by_plan
from procedures.planning.plans import HeatPlan, PartPlan, StepPlan
from procedures.planning.profile import ShopProfile, default
from procedures.planning.ranges import Range
from procedures.planning.reasons import reason_of, whole_seconds
from procedures.planning.sharing import could_share

from .heat_curve import CurvePicture
from .heat_strip import Bars, bars_of

NAMES: Mapping[str, tuple[str, Callable[[float], str]]] = {
    "chapman": ("Chapman", chapman_name),
    "stirling": ("Stirling", stirling_name),
}
UsedHeats = Mapping[tuple[str, str], float]
_DASH = "\N{EN DASH}"
_ADVICE = {
    "energy": ": count what you take, or plan a striker or a power hammer",
    "reach": ": the fire does not reach it all at once",
}


def shop_for(document: Document, shop: ShopProfile | None = None) -> ShopProfile:
    """Return the shop a procedure is planned in: the one given, or a usual one with its author's fire."""
    if shop is not None:
        return shop
    return replace(default(), fire=document.scale.fire, hot_length=document.scale.hot_length)


@dataclass(frozen=True, slots=True)
class Said:
    """A predicted quantity as text: what is typical, and "low–high", "" where they are the same."""

    typical: str
    spread: str = ""


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


class ShownHeatPlan:
    """The whole plan; `names` is the reader's table of heat colours, `used` the heats that runs counted."""

    def __init__(
        self,
        replayed: Replay,
        shop: ShopProfile,
        units: UnitSystem,
        names: str = "chapman",
        used: UsedHeats | None = None,
    ) -> None:
        self.replayed, self.shop, self.units, self.names = replayed, shop, units, names
        self.used: UsedHeats = used or {}

    @cached_property
    def plan(self) -> HeatPlan:
        """What it is made from."""
        return heat_plan(self.replayed, self.shop)

    @cached_property
    def parts(self) -> tuple[ShownPartPlan, ...]:
        """The parts that have steps."""
        return tuple(self._part(one) for one in self.plan.parts if one.steps)

    @property
    def has_used(self) -> bool:
        """Whether any run counted heats."""
        return bool(self.used)

    # -- the shop --------------------------------------------------------------------------------

    @cached_property
    def shop_words(self) -> tuple[str, ...]:
        """What is reckoned with, line by line."""
        shop, units = self.shop, self.units
        hammer = shop.used
        lines = (
            say(
                "{who}, {hammer} of {energy} J, {rate:number} blows a second",
                who=_capital(SKILLS[shop.skill]),
                hammer=hammer.title,
                energy=decimal(hammer.energy, 0),
                rate=hammer.rate,
            ),
            say(
                "Fire: {fire}, {heat:temperature}, {reach:length} hot at once",
                fire=_uncapital(FIRE_CHOICES[shop.fire]),
                heat=shop.fire_heat,
                reach=shop.reach,
            ),
            say(
                "Out of the fire at {start:temperature}, {first}; back at {stop:temperature}, {last}",
                start=shop.start,
                first=self.name_of(shop.start),
                stop=shop.stop,
                last=self.name_of(shop.stop),
            ),
        )
        return tuple(one.text(units) for one in lines)

    def name_of(self, temperature: float) -> str:
        """Return the name of a heat [°C] in the reader's table."""
        return NAMES[self.names][1](temperature)

    # -- steps -----------------------------------------------------------------------------------

    def _part(self, part: PartPlan) -> ShownPartPlan:
        steps = tuple(self._step(part, one) for one in part.steps)
        remarks = tuple(_capital(one.text(self.units)) for one in self._remarks(part))
        return ShownPartPlan(part.part.name, part.part.key, steps, tuple(self._sums(part)), remarks)

    def _sums(self, part: PartPlan) -> Iterator[tuple[str, str, str]]:
        heats = self._heats(part.predicted)
        yield "Heats predicted", heats.typical, heats.spread
        yield "Heats planned", str(part.planned), ""
        if counted := [value for (key, _), value in self.used.items() if key == part.part.key]:
            yield "Heats used", _plain(sum(counted)), ""
        blows = _rough(part.blows)
        yield "Blows", blows.typical, blows.spread
        minutes = self._minutes(part.minutes)
        yield "Fire and anvil", minutes.typical, minutes.spread

    def _step(self, part: PartPlan, step: StepPlan) -> ShownPlan:
        anchor = f"{part.part.key}-{step.key}"
        heats = self._heats(step.predicted)
        used = self.used.get((part.part.key, step.key))
        return ShownPlan(
            step,
            anchor,
            step.frame.title,
            str(step.planned) if step.is_hot else "",
            heats if step.is_hot else Said(""),
            _plain(used) if used is not None else "",
            _rough(step.blows) if step.blows.typical else Said(""),
            self._seconds(step.hammering.times(step.frame.members)) if step.hammering.typical else Said(""),
            self._minutes(step.minutes) if step.is_hot else Said(""),
            reason_of(step, self.shop).text(self.units),
            bars_of(step, anchor, self._told(step, heats)) if step.is_hot else None,
        )

    def _told(self, step: StepPlan, heats: Said) -> str:
        limits = step.limits
        between = f", {self._heat(limits.start)} to {self._heat(limits.stop)}" if limits else ""
        spread = f" ({heats.spread})" if heats.spread else ""
        return f"{heats.typical} heats predicted{spread}, {step.planned} planned{between}"

    def _heat(self, temperature: float) -> str:
        return f"{self.units.temperature(temperature)} {self.name_of(temperature)}"

    # -- remarks ---------------------------------------------------------------------------------

    def _remarks(self, part: PartPlan) -> Iterator[Sentence]:
        for step in part.steps:
            yield from self._against_plan(step)
            yield from self._of_waiting(step)
        for one in could_share(part):
            numbers = [str(step.frame.number) for step in one.steps]
            yield say(
                "steps {numbers} may fit in one heat: {seconds:seconds} with changing tools, and it allows "
                "about {allows:seconds}.",
                numbers=listed(numbers),
                seconds=whole_seconds(one.seconds),
                allows=whole_seconds(one.allows),
            )

    def _against_plan(self, step: StepPlan) -> Iterator[Sentence]:
        low, high = step.predicted.low, step.predicted.high
        if not step.is_hot or step.shares or low <= step.planned <= high:
            return
        few = step.planned < low
        yield say(
            "step {number}, {title}, is planned in {planned:count}, {fewer} than the {low} predicted"
            "{advice}.",
            number=step.frame.number,
            title=step.frame.title.lower(),
            planned=step.planned,
            fewer="fewer" if few else "more",
            low=self._heats(step.predicted).spread or str(round(low)),
            advice=_ADVICE.get(step.need.by if few and step.need else "", ""),
        )

    def _of_waiting(self, step: StepPlan) -> Iterator[Sentence]:
        waiting = step.waiting
        if waiting is None:
            return
        yield say(
            "step {number}, {title}: while one is worked for {seconds:seconds}, the {others} beside it "
            "{goes} down to about {warm:temperature}, {name}: {verdict}.",
            number=step.frame.number,
            title=step.frame.title.lower(),
            seconds=whole_seconds(waiting.seconds),
            others="other" if waiting.others == 1 else f"other {waiting.others}",
            goes="goes" if waiting.others == 1 else "go",
            warm=float(round(waiting.temperature, -1)),
            name=self.name_of(waiting.temperature),
            verdict="still warm enough to begin" if waiting.workable else "too cold, so leave it in the fire",
        )

    # -- one step --------------------------------------------------------------------------------

    def detail(self, part: str, key: str) -> Detail | None:
        """Return one step with its curve, or None where there is none such or it is not hot."""
        found = self.plan.part(part)
        step = found.step(key) if found else None
        if found is None or step is None or not step.is_hot or step.limits is None:
            return None
        return Detail(self._step(found, step), self._curve(step), tuple(self._facts(step)))

    def _curve(self, step: StepPlan) -> SafeString:
        assert step.limits is not None
        curve = curve_of(step, self.shop)
        if not curve:
            return SafeString("")
        whole = curve[-1].points[-1][0]
        told = (
            f"Temperature against time for one member: heated to {self._heat(step.limits.start)}, "
            f"worked down to {self._heat(step.limits.stop)}, {curve[-1].heat} times "
            f"in {self.units.seconds(_two(whole))}."
        )
        return CurvePicture(curve, self.units, self.names, step.limits.stop).svg(told)

    def _facts(self, step: StepPlan) -> Iterator[tuple[str, str, str]]:
        yield self._fact("First heat in the fire", step.heating)
        each = step.predicted.typical / step.frame.members
        if each > 1:
            yield self._fact("Each further heat", step.reheating)
        if step.window:
            yield self._fact("A heat lasts, where thinnest", step.window)
        if step.welding_window is not None:
            seconds = self.units.seconds(_two(step.welding_window))
            yield "In welding heat, in air", seconds, "before the first blow is over"
        if step.hammering.typical:
            word = "Hammering" if step.hammer else "At the wrench"
            yield self._fact(word + (" each" if step.frame.members > 1 else ""), step.hammering)
        if step.hammer and step.blows.typical:
            blows = _rough(step.blows)
            yield (
                f"Blows, {step.hammer.title} of {decimal(step.hammer.energy, 0)} J",
                blows.typical,
                blows.spread,
            )
        if round(each) > MOST_HEATS:
            yield "Drawn", f"{MOST_HEATS} heats", f"of {round(each)}"

    def _fact(self, label: str, value: Range) -> tuple[str, str, str]:
        said = self._seconds(value)
        return label, said.typical, said.spread

    # -- losses ----------------------------------------------------------------------------------

    def losses(self) -> list[ShownLoss]:
        """Return what the fire would take if the predicted heats were taken; nothing is changed by it."""
        return [self._loss(one) for one in losses_by_plan(self.replayed, self.plan)]

    def _loss(self, one: PartLoss) -> ShownLoss:
        units = self.units
        return ShownLoss(
            one.part.name,
            _both(units.mass, one.scale),
            _both(units.mass, one.mass),
            _both(units.length, one.length),
            one.comes_about,
        )

    # -- figures ---------------------------------------------------------------------------------

    def _heats(self, value: Range) -> Said:
        low, typical, high = (round(one) for one in (value.low, value.typical, value.high))
        return Said(str(typical), "" if low == high else f"{low}{_DASH}{high}")

    def _seconds(self, value: Range) -> Said:
        say_it = self.units.seconds
        low, typical, high = (_whole(one) for one in (value.low, value.typical, value.high))
        spread = "" if low == high else f"{say_it(low)}{SPACE}{_DASH}{SPACE}{say_it(high)}"
        if high < 60 and low != high:
            spread = f"{low:g}{_DASH}{say_it(high)}"
        return Said(say_it(typical), spread)

    def _minutes(self, value: Range) -> Said:
        low, typical, high = (_half_minutes(one) for one in (value.low, value.typical, value.high))
        return Said(f"{typical}{SPACE}min", "" if low == high else f"{low}{_DASH}{high}")


@dataclass(frozen=True, slots=True)
class Detail:
    """One step with its curve of temperature, and its facts as (label, typical, spread)."""

    step: ShownPlan
    curve: SafeString
    facts: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class ShownLoss:
    """What a part loses and measures as planned and as predicted, each a pair of texts."""

    name: str
    scale: tuple[str, str]
    mass: tuple[str, str]
    length: tuple[str, str]
    comes_about: bool


def _both(say_it: Callable[[float], str], pair: tuple[float, float]) -> tuple[str, str]:
    return say_it(pair[0]), say_it(pair[1])


def _two(value: float) -> float:
    """Return a value to two figures: no more is known of it."""
    if value <= 0:
        return 0.0
    return float(round(value, 1 - floor(log10(value))))


def _whole(seconds: float) -> float:
    """Return seconds as they are counted beside an anvil: whole ones, to two figures, and never none."""
    return float(round(_two(max(seconds, 1.0))))


def _rough(value: Range) -> Said:
    low, typical, high = (decimal(_two(max(one, 1.0)), 0) for one in (value.low, value.typical, value.high))
    return Said(typical, "" if low == high else f"{low}{_DASH}{high}")


def _half_minutes(seconds: float) -> str:
    """Return minutes as people say them: "½", "1½", "7"."""
    halves = max(round(seconds / 30), 1)
    if halves >= 10:
        return str(round(seconds / 60))
    whole, half = divmod(halves, 2)
    return (str(whole) if whole else "") + ("½" if half else "")


def _plain(value: float) -> str:
    return decimal(value, 1)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _uncapital(text: str) -> str:
    return text[:1].lower() + text[1:]
