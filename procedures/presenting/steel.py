"""A material in words: its carbon and its heats in the reader's degrees, what it forbids, and its sources."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.materials import Band, Material
from calculators.number_texts import SPACE
from calculators.wording import UnitSystem

from .figures import Fact


@dataclass(frozen=True)
class ShownSteel:
    """What a page says of the material of a bar."""

    steel: Material
    units: UnitSystem

    @property
    def facts(self) -> tuple[Fact, ...]:
        """Its carbon and its heats."""
        steel = self.steel
        welds = Fact("Welded at", *self._band(steel.welding)) if steel.welding else Fact("Welded", "never")
        return (
            Fact("Carbon", self.units.number(steel.carbon), "%"),
            Fact("Forged at", *self._band(steel.forging)),
            welds,
            Fact("Burns at", *self._degrees(steel.burns_at)),
            Fact("A magnet holds to", *self._degrees(steel.magnetic_to)),
        )

    @property
    def forbids(self) -> tuple[str, ...]:
        """What must not be done with it."""
        return self.steel.forbids

    @property
    def note(self) -> str:
        """What else there is to say of it."""
        return self.steel.note

    @property
    def sources(self) -> tuple[str, ...]:
        """Where its figures come from, each once."""
        steel = self.steel
        told = {
            f"Density: {steel.density_source}.": None,
            f"Heats: {steel.heats_source}.": None,
            f"Magnet: {steel.magnetic_source}.": None,
        }
        return tuple(told)

    def _degrees(self, celsius: float) -> tuple[str, str]:
        value, unit = self.units.temperature(celsius).split(SPACE)
        return value, unit

    def _band(self, band: Band) -> tuple[str, str]:
        (low, _), (high, unit) = (self._degrees(one) for one in band)
        return f"{low}–{high}", unit
