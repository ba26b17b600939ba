"""One step of a heat plan: its curve of temperature, its times, and what each hammer makes of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.safestring import SafeString

from calculators.number_texts import SPACE, decimal
from procedures.planning.curve import MOST, curve_of
from procedures.planning.heat_plan import with_each_hammer
from procedures.planning.plans import StepPlan
from procedures.planning.profile import ShopProfile
from procedures.planning.ranges import Range
from procedures.planning.reasons import reason_of

from .heat_curve import CurvePicture
from .heat_words import HeatWords, Said, blows_said, capital, heats_said, two_figures


@dataclass(frozen=True, slots=True)
class Struck:
    """A step struck with one hammer; `own` is set for the one that the plan is made with."""

    title: str
    own: bool
    blows: Said
    hammering: Said
    heats: Said


@dataclass(frozen=True, slots=True)
class Detail:
    """One step: why it takes its heats, its curve, its facts as (label, typical, spread), and each hammer."""

    number: int
    title: str
    why: str
    curve: SafeString
    facts: tuple[tuple[str, str, str], ...]
    struck: tuple[Struck, ...]


def detail_of(step: StepPlan, shop: ShopProfile, words: HeatWords) -> Detail:
    """Return one hot step with its curve."""
    return Detail(
        step.frame.number,
        step.frame.title,
        reason_of(step, shop).text(words.units),
        _curve(step, shop, words),
        tuple(_facts(step, words)),
        tuple(_struck(one, shop, words) for one in with_each_hammer(step, shop)),
    )


def _curve(step: StepPlan, shop: ShopProfile, words: HeatWords) -> SafeString:
    curve = curve_of(step, shop)
    if not curve or step.limits is None:
        return SafeString("")
    limits, whole = step.limits, curve[-1].points[-1][0]
    told = (
        f"Temperature against time for one member: heated to {words.heat(limits.start)}, "
        f"worked down to {words.heat(limits.stop)}, {curve[-1].heat} times "
        f"in {words.units.seconds(two_figures(whole))}."
    )
    return CurvePicture(curve, words, limits.stop).svg(told)


def _facts(step: StepPlan, words: HeatWords) -> Iterator[tuple[str, str, str]]:
    def fact(label: str, value: Range) -> tuple[str, str, str]:
        said = words.seconds(value)
        return label, said.typical, said.spread

    each = step.predicted.typical / step.frame.members
    yield fact("First heat in the fire", step.heating)
    if each > 1:
        yield fact("Each further heat", step.reheating)
    if step.window:
        yield fact("A heat lasts, where thinnest", step.window)
    if step.welding_window is not None:
        seconds = words.units.seconds(two_figures(step.welding_window))
        yield "In welding heat, in air", seconds, "before the first blow is over"
    if step.hammering.typical:
        word = "Hammering" if step.hammer else "At the wrench"
        yield fact(word + (" each" if step.frame.members > 1 else ""), step.hammering)
    if round(each) > MOST:
        yield "Drawn", f"{MOST} heats", f"of {round(each)}"


def _struck(step: StepPlan, shop: ShopProfile, words: HeatWords) -> Struck:
    assert step.hammer is not None
    return Struck(
        f"{capital(step.hammer.title)}, {decimal(step.hammer.energy, 0)}{SPACE}J",
        step.hammer == shop.used,
        blows_said(step.blows),
        words.seconds(step.hammering.times(step.frame.members)),
        heats_said(step.predicted),
    )
