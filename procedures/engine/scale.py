"""How deep the scale of each heat goes, by fire and habit, and what that takes from a segment."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from calculators.formulas.scale_depth import FIRES, FORGING_HEAT, heat_ratio
from calculators.materials import Material
from procedures.engine.pieces.segment import Segment

Estimate = Literal["low", "typical", "high"]
NO_SCALE = 500.0  # °C: where the rate of scaling begins to be known; below it a film, no scale


@dataclass(frozen=True)
class ScaleHabit:
    """What a procedure says of its fire.

    `fire` is one of FIRES, whose depth follows from the section and the soak; `forging` and `welding` are
    the smith's own depths [mm of metal a heat], which go before it. `hot_length` is how much bar it makes
    hot at once and `door` how high and wide a piece goes into it [mm], where the smith says so.
    """

    fire: str = "average"
    forging: float | None = None
    welding: float | None = None
    hot_length: float | None = None
    door: float | None = None

    def forging_depth(
        self, modulus: float, estimate: Estimate = "typical", temperature: float = FORGING_HEAT
    ) -> float:
        """Return the depth of metal lost [mm] in one heat by a bar of this volume per skin [mm].

        It is a forging heat unless another `temperature` [°C] is given; a smith's own depth of a forging heat
        is then taken in the same proportion. Below a red heat nothing is lost.
        """
        if temperature < NO_SCALE:
            return 0.0
        depth = self._depth(modulus, temperature, estimate)
        if self.forging is None:
            return depth
        return self.forging * heat_ratio(temperature)

    def welding_depth(self, modulus: float, material: Material, estimate: Estimate = "typical") -> float:
        """Return the depth of metal lost [mm] in one heat to the middle of the material's welding band."""
        if self.welding is not None:
            return self.welding
        low, high = material.welding or material.forging  # a weld of what does not weld is stopped elsewhere
        return self._depth(modulus, (low + high) / 2, estimate)

    def _depth(self, modulus: float, temperature: float, estimate: Estimate) -> float:
        depths = FIRES[self.fire].depths(modulus, temperature)
        return {"low": depths.low, "typical": depths.typical, "high": depths.high}[estimate]

    def forging_loss(
        self, heats: int, estimate: Estimate, temperature: float = FORGING_HEAT
    ) -> Callable[[Segment], float]:
        """Return the function that gives the depth [mm] a segment loses in so many heats, see above."""
        return lambda segment: heats * self.forging_depth(segment.modulus, estimate, temperature)

    def welding_loss(self, heats: int, material: Material, estimate: Estimate) -> Callable[[Segment], float]:
        """Return the function that gives the depth [mm] a segment loses in so many welding heats."""
        return lambda segment: heats * self.welding_depth(segment.modulus, material, estimate)

    def write(self) -> dict[str, Any]:
        """Return the stored form."""
        own = {name: getattr(self, name) for name in ("forging", "welding", "hot_length", "door")}
        return {"fire": self.fire, **{key: value for key, value in own.items() if value is not None}}


__all__ = ["FIRES", "Estimate", "ScaleHabit"]
