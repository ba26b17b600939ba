"""What is counted, timed and measured at one step beside the forge."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.wording import UnitSystem
from procedures.engine.replay import Frame
from procedures.planning.profile import default
from procedures.planning.windows import window_of
from procedures.replanning import Asked, asked_of

CHIPS = ("As planned", "Short", "Long", "Burnt", "Cracked")


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
    """Return how long one heat of a step lasts, as the heat plan of a usual shop has it.

    A telephone keeps one screen for everybody, so it is nobody's own shop. A welding heat has no time: its
    few degrees are gone in a second or two, which is less than the sum is good to.
    """
    window = window_of(frame, default()) if frame.heats else None
    if window is None:
        return None
    return HeatSeconds(_seconds(window.low), _seconds(window.typical), _seconds(window.high))


def _seconds(value: float) -> int:
    return max(round(value), 1)
