"""What is counted, timed and measured at one step beside the forge."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.formulas.working_time import anvil_seconds
from calculators.wording import UnitSystem
from procedures.engine.replay import Frame
from procedures.replanning import Asked, asked_of

CHIPS = ("As planned", "Short", "Long", "Burnt", "Cracked")
UNSURE = 1.4  # the formula's own range: times and divided by this


@dataclass(frozen=True, slots=True)
class HeatSeconds:
    """How long a heat lasts at the anvil [s]."""

    low: int
    typical: int
    high: int


@dataclass(frozen=True, slots=True)
class Anvil:
    """One step beside the forge; `seconds` is None for cold work, and for a weld, which `is_weld` says."""

    seconds: HeatSeconds | None
    is_weld: bool
    asked: list[Asked]
    decimal: bool  # whether sizes are typed as decimals
    chips: tuple[str, ...] = CHIPS


def anvil_of(frame: Frame, units: UnitSystem) -> Anvil:
    """Return what there is to count, time and measure at a step."""
    return Anvil(
        heat_seconds(frame), is_weld(frame), asked_of(frame, units), decimal=units.length_unit == "mm"
    )


def is_weld(frame: Frame) -> bool:
    """Whether a step is struck at a welding heat, which lasts too short for a clock to be of use."""
    return frame.welding_heats > 0


def heat_seconds(frame: Frame) -> HeatSeconds | None:
    """Return how long one heat of a step lasts, by the thinnest metal worked, as it is before or after.

    It begins at the most the step is heated to and ends where the steel is too cold to forge. A welding heat
    has no time: its few degrees are gone in a second or two, which is less than the sum is good to.
    """
    operation = frame.operation
    heat = operation.planned_heat(frame.before) if operation else None
    if frame.status != "done" or not frame.heats or heat is None or is_weld(frame):
        return None
    stop = min(heat[0], frame.before.material.forging[0])
    if stop >= heat[1]:
        return None
    runs = [one for metal in (*frame.found, *frame.left) for one in metal.run]
    moduli = [one.modulus for one in runs if one.volume > 0]
    if not moduli:
        return None
    typical = anvil_seconds(min(moduli), start=heat[1], stop=stop)
    return HeatSeconds(_seconds(typical / UNSURE), _seconds(typical), _seconds(typical * UNSURE))


def _seconds(value: float) -> int:
    return max(round(value), 1)
