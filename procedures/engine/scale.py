"""How deep the scale of each heat goes, by fire and habit, and what that takes from a segment."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from calculators.formulas.scale_depth import FIRES, fire_depth, heat_depth

from .segment import Segment

Estimate = Literal["low", "typical", "high"]


@dataclass(frozen=True)
class ScaleHabit:
    """What a procedure says of its fire.

    `fire` is "calculated" (from the section and the soak) or one of FIRES; `forging` and `welding` are
    the smith's own depths [mm of metal a heat], which go before it.
    """

    fire: str = "calculated"
    forging: float | None = None
    welding: float | None = None

    def depth(self, modulus: float, *, welding: bool, estimate: Estimate = "typical") -> float:
        """Return the depth of metal lost [mm] in one heat by a bar of this volume per skin [mm]."""
        own = self.welding if welding else self.forging
        if own is not None:
            return own
        if self.fire == "calculated":
            return heat_depth(modulus, welding=welding, estimate=estimate)
        return fire_depth(self.fire, welding=welding, estimate=estimate)

    def loss(
        self, heats: int, *, welding: bool, estimate: Estimate = "typical"
    ) -> Callable[[Segment], float]:
        """Return the function that gives the depth [mm] a segment loses in this many heats."""
        return lambda segment: heats * self.depth(segment.modulus, welding=welding, estimate=estimate)

    def write(self) -> dict[str, Any]:
        """Return the stored form."""
        own = {"forging": self.forging, "welding": self.welding}
        return {"fire": self.fire, **{key: value for key, value in own.items() if value is not None}}


__all__ = ["FIRES", "Estimate", "ScaleHabit"]
