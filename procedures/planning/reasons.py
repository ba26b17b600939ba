"""Why a step takes so many heats, in a sentence."""

from __future__ import annotations

from calculators.wording import Sentence, say

from .figures import SKILLS
from .plans import StepPlan
from .profile import ShopProfile

_A_FEW = 5.0  # s
_NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")


def heats_in_words(count: float, noun: str = "heat") -> str:
    """Return "Three heats", "One heat", "13 heats"."""
    whole = round(count)
    number = _NUMBERS[whole] if whole < len(_NUMBERS) else str(whole)
    return f"{number} {noun}" + ("" if whole == 1 else "s")


def whole_seconds(seconds: float) -> float:
    """Return seconds as they are said of hand work: whole, and never none."""
    return float(max(round(seconds), 1))


def seconds_said(seconds: float) -> Sentence:
    """Return seconds of hand work in words: "42 s", or "a few seconds" where nobody would count them."""
    if seconds < _A_FEW:
        return say("a few seconds")
    return say("{seconds:seconds}", seconds=whole_seconds(seconds))


def reason_of(step: StepPlan, profile: ShopProfile) -> Sentence:
    """Return why a step takes the heats that are predicted of it."""
    if step.kind == "not_done":
        return say("Not reached: the step, or one before it, does not come about.")
    if step.kind == "cold":
        return say("Cold work: no heat.")
    if step.kind == "welded":
        return _of_weld(step)
    if step.kind == "warmed" or step.limits is None:
        return say("{heats}: it is warmed and not hammered.", heats=_counted(step))
    if step.shares:
        return _of_shared(step)
    return _of_forging(step, profile)


def _counted(step: StepPlan) -> str:
    each = step.predicted.typical / step.frame.members
    members = f" for each of {step.frame.members}" if step.frame.members > 1 else ""
    return heats_in_words(each) + members


def _of_weld(step: StepPlan) -> Sentence:
    welding = step.need.craft if step.need else 1
    forging = step.predicted.typical - welding
    heats = heats_in_words(welding, "welding heat")
    usual = f"{heats}, as such a weld usually takes, to stick it and to make sure."
    if forging > 0:
        usual += f" {heats_in_words(forging)} more to close it up."
    if step.welding_window is None:
        return say("{usual}", usual=usual)
    return say(
        "{usual} The metal stays in its welding heat for about {window:seconds}: strike at once.",
        usual=usual,
        window=step.welding_window,
    )


def _of_shared(step: StepPlan) -> Sentence:
    seconds = seconds_said(step.hammering.typical)
    if step.predicted.typical > 0:
        return say(
            "It is to be done in the heat before it, but {seconds} of hammering do not fit in what "
            "is left of that: {heats} more.",
            seconds=seconds,
            heats=heats_in_words(step.predicted.typical).lower(),
        )
    return say("In the heat before it: {seconds} of hammering fit in what is left.", seconds=seconds)


def _of_forging(step: StepPlan, profile: ShopProfile) -> Sentence:
    need = step.need
    assert need is not None
    heats, seconds = _counted(step), seconds_said(step.hammering.typical)
    if need.by == "reach":
        return say(
            "{heats}: {long:length} must be hot, and the fire makes {reach:length} hot at once.",
            heats=heats,
            long=float(round(sum(one.length for one in step.frame.heated) / step.frame.members)),
            reach=profile.reach,
        )
    if step.forged is None:
        return say(
            "{heats}, as {who} usually takes; its blows are not reckoned.", heats=heats, who=_who(profile)
        )
    if need.by == "energy":
        return say(
            "{heats}: {seconds} of {hammering}, and a heat allows {about}.",
            heats=heats,
            seconds=seconds,
            hammering=_doing(step),
            about=_allows(step),
        )
    if need.energy > 1:
        return say(
            "{heats}, as {who} usually takes; the {hammering}, {seconds}, needs no more.",
            heats=heats,
            who=_who(profile),
            hammering=_doing(step),
            seconds=seconds,
        )
    if need.craft == 1:
        return say(
            "{heats}: {seconds} of {hammering}, and a heat allows {about}.",
            heats=heats,
            seconds=seconds,
            hammering=_doing(step),
            about=_allows(step),
        )
    return say(
        "{heats}, as {who} usually takes; the {hammering}, {seconds}, would fit in one.",
        heats=heats,
        who=_who(profile),
        hammering=_doing(step),
        seconds=seconds,
    )


def _doing(step: StepPlan) -> str:
    return "turning the wrench" if step.hammer is None else "hammering"


def _who(profile: ShopProfile) -> str:
    return SKILLS[profile.skill]


def _allows(step: StepPlan) -> Sentence:
    """Return how long each heat allows: "about 17 s", "26 s at first and 12 s at the end"."""
    assert step.forged is not None
    first, last = step.forged.first, step.forged.last
    if step.forged.heats <= 1 or round(first) == round(last):
        return say("about {mean:seconds}", mean=float(round((first + last) / 2)))
    return say(
        "about {first:seconds} at first and {last:seconds} at the end",
        first=float(round(first)),
        last=float(round(last)),
    )
