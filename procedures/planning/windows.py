"""How long metal stays hot enough: between which heats a step is worked, and for how many seconds."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.hot_steel import SHOP, cooling_seconds_per_mm, furnace_seconds_per_mm
from procedures.engine.frames import Frame
from procedures.engine.judging.deeds import overlap

from .profile import ShopProfile
from .ranges import ANVIL_UNSURE, FIRE_UNSURE, Range, within
from .work import heated_modulus, modulus_of, thinnest_modulus

_ABOVE = 30.0  # °C that a furnace must be above the bar, or the last degrees take for ever
RED = 600.0  # °C, below which no colour is seen
_SAME_RUN = 0.5  # of the range heated, that the step before left hot


@dataclass(frozen=True, slots=True)
class Limits:
    """The heats [°C] a step is worked between: out of the fire at `start`, back to it at `stop`."""

    start: float
    stop: float


def limits_of(frame: Frame, profile: ShopProfile) -> Limits | None:
    """Return the heats a step is worked between in a shop; None for cold work and for what is only warmed.

    The shop's own habit, but no hotter than the step is heated, and no colder than its steel is forged,
    unless the step is meant for a lower heat.
    """
    planned = frame.operation.planned_heat(frame.before) if frame.operation else None
    if frame.status != "done" or planned is None or planned[1] < RED:
        return None
    coldest = frame.before.material.forging[0]
    start = min(planned[1], max(profile.start, planned[0]))
    stop = min(planned[0], max(profile.stop, coldest))
    return Limits(start, stop) if stop < start else None


def window_of(frame: Frame, profile: ShopProfile) -> Range | None:
    """Return how long a heat lasts [s] from leaving the fire, by the thinnest metal before or after.

    None where there is no clock to work by: cold work, and a weld, whose heat is gone in a moment.
    """
    limits = limits_of(frame, profile)
    modulus = thinnest_modulus(frame)
    if limits is None or frame.welding_heats or not modulus:
        return None
    return within(seconds_hot(modulus, limits, profile), ANVIL_UNSURE)


def seconds_hot(modulus: float, limits: Limits, profile: ShopProfile) -> float:
    """Return the seconds a heat lasts for an area over perimeter [mm], from leaving the fire."""
    return cooling_seconds_per_mm(limits.start, limits.stop, profile.contact) * modulus


def welding_seconds(frame: Frame) -> float | None:
    """Return the seconds in still air that metal stays within its welding heat; None where none is welded."""
    band = frame.before.material.welding
    modulus = thinnest_modulus(frame)
    if not frame.welding_heats or band is None or not modulus:
        return None
    return cooling_seconds_per_mm(band[1], band[0]) * modulus


def heating_seconds(frame: Frame, profile: ShopProfile, heat: float, start: float = SHOP) -> Range:
    """Return the time [s] in the fire to a heat from a start [°C]."""
    modulus = heated_modulus(frame) or modulus_of(frame.found)
    if heat <= start or not modulus:
        return Range(0.0, 0.0, 0.0)
    fire = max(profile.fire_heat, heat + _ABOVE)  # a weld may be hotter than the fire is said to be
    return within(profile.slower * modulus * furnace_seconds_per_mm(fire, start, heat), FIRE_UNSURE)


def is_left_hot(frame: Frame, before: Frame | None) -> bool:
    """Whether the step before left most of the metal hot that this one heats."""
    if before is None or not frame.heated:
        return False
    hot = (*before.after.worked, *before.heated)  # the second as it was before: near enough to tell by
    common = sum(max([0.0, *(overlap(one, other) for other in hot)]) for one in frame.heated)
    return common >= _SAME_RUN * sum(one.length for one in frame.heated)
