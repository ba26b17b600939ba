"""The irons and steels a smith forges: density, carbon, and the heats to work and weld them at.

Densities have a source. Forging, welding and burning heats are from memory (common teaching; no table was
read again) and are shown as such: a steel's maker knows better.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.formula import Cite

_HEATS = Cite("MEMORY", note="heats as commonly taught")


@dataclass(frozen=True)
class Material:
    """A material. Density in kg/m³, carbon in per cent by mass, heats in °C (from, to)."""

    id: str
    title: str
    density: float
    carbon: float
    forging: tuple[float, float]
    welding: tuple[float, float]
    burns_at: float
    density_source: Cite
    heats_source: Cite = _HEATS
    note: str = ""

    def mass(self, volume: float) -> float:
        """Return the mass [kg] of a volume [mm³]."""
        return self.density * volume * 1e-9


MATERIALS: dict[str, Material] = {
    material.id: material
    for material in (
        Material(
            "mild_steel",
            "Mild steel",
            density=7850,
            carbon=0.15,
            forging=(850, 1250),
            welding=(1260, 1320),
            burns_at=1350,
            density_source=Cite("BLUE-BOOK"),
        ),
        Material(
            "wrought_iron",
            "Wrought iron",
            density=7700,
            carbon=0.03,
            forging=(900, 1300),
            welding=(1300, 1380),
            burns_at=1400,
            density_source=Cite("SHOP-PRACTICE", note="480 lb/ft³, which is 7689 kg/m³, rounded"),
            note="Its slag makes it split when worked cold; draw it near a welding heat.",
        ),
        Material(
            "medium_carbon",
            "Medium-carbon steel",
            density=7850,
            carbon=0.45,
            forging=(850, 1200),
            welding=(1200, 1260),
            burns_at=1300,
            density_source=Cite("BLUE-BOOK"),
        ),
        Material(
            "high_carbon",
            "High-carbon steel",
            density=7850,
            carbon=0.85,
            forging=(800, 1100),
            welding=(1100, 1180),
            burns_at=1200,
            density_source=Cite("BLUE-BOOK", note="high-carbon steel is up to 0.5 % less dense"),
            note="Heat it slowly to a dark red first.",
        ),
    )
}
