"""Temperature against time for one step: into the fire, out of it, worked, and in again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from calculators.hot_steel import SHOP, cooled_to, cooling_seconds_per_mm, furnace_seconds_per_mm

from .plans import StepPlan
from .profile import ShopProfile
from .work import heated_modulus, modulus_of

Where = Literal["fire", "carried", "anvil"]
MOST = 6  # heats drawn one by one
_STEPS = 12
_ABOVE = 30.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of a curve: where the metal is, and its points (seconds, °C). `heat` counts from 1."""

    where: Where
    heat: int
    points: tuple[tuple[float, float], ...]


def curve_of(step: StepPlan, profile: ShopProfile) -> tuple[Stretch, ...]:
    """Return the stretches of a step's first heats, for one member, typical times.

    The metal is taken to be as hot inside as outside, and the blows not to warm it.
    """
    if step.limits is None or not step.predicted.typical:
        return ()
    each = max(round(step.predicted.typical / step.frame.members), 1)
    return tuple(_stretches(step, profile, min(each, MOST), each))


def _stretches(step: StepPlan, profile: ShopProfile, count: int, each: int) -> Iterator[Stretch]:
    assert step.limits is not None
    start, stop = step.limits.start, step.limits.stop
    first = heated_modulus(step.frame) or modulus_of(step.frame.found)
    last = modulus_of(step.frame.left) or first
    if step.kind == "welded":
        stop = min(stop, profile.stop)  # it is tapped on while it cools through its forging heat
    now, warm = 0.0, stop if step.starts_hot else SHOP
    for heat in range(1, count + 1):
        done = (heat - 1) / max(each - 1, 1)
        modulus = first + (last - first) * done
        points = tuple(_heating(modulus, warm, start, profile, now))
        yield Stretch("fire", heat, points)
        now = points[-1][0]
        carried = cooled_to(modulus, start, profile.transfer)
        yield Stretch("carried", heat, ((now, start), (now + profile.transfer, carried)))
        now += profile.transfer
        points = tuple(_cooling(modulus, carried, min(stop, carried - 1), profile.contact, now))
        yield Stretch("anvil", heat, points)
        now, warm = points[-1]


def _heating(
    modulus: float, start: float, stop: float, profile: ShopProfile, now: float
) -> Iterator[tuple[float, float]]:
    fire = max(profile.fire_heat, stop + _ABOVE)
    for number in range(_STEPS + 1):
        at = start + (stop - start) * number / _STEPS
        spent = furnace_seconds_per_mm(fire, start, at) if at > start else 0.0
        yield now + profile.slower * modulus * spent, at


def _cooling(
    modulus: float, start: float, stop: float, contact: float, now: float
) -> Iterator[tuple[float, float]]:
    for number in range(_STEPS + 1):
        at = start - (start - stop) * number / _STEPS
        yield now + modulus * cooling_seconds_per_mm(start, at, contact), at
