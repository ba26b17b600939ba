"""What goes cold while it waits: the other members of a group, while one of them is worked."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.hot_steel import cooled_to
from procedures.engine.frames import Frame

from .windows import Limits
from .work import modulus_of


@dataclass(frozen=True, slots=True)
class Waiting:
    """How long the next member waits out of the fire [s], and how warm it is then [°C].

    `others` is how many wait, `workable` whether it is still warm enough to work.
    """

    others: int
    seconds: float
    temperature: float
    workable: bool


def waiting_of(frame: Frame, limits: Limits, seconds: float, heats: float) -> Waiting | None:
    """Return what the others do while one member is hammered through a heat; None where there are none."""
    others = frame.members - 1
    modulus = modulus_of(frame.found)
    if others < 1 or not modulus or seconds <= 0:
        return None
    each = seconds * frame.members / max(heats, 1.0)
    warm = cooled_to(modulus, limits.start, each)
    return Waiting(others, each, warm, warm > limits.stop)
