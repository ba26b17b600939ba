"""The irons and steels a smith forges: density, carbon, heats to work and weld at, and what each forbids.

Densities have a source. Forging, welding, burning and treating heats are from memory (common teaching; no
table was read again) and are shown as such: a steel's maker knows better. Cast iron is not among them: it is
not forged.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from calculators.formula import Cite

Band = tuple[float, float]  # °C, from and to

_HEATS = Cite("MEMORY", note="heats as commonly taught")
_CURIE = Cite("CURIE-POINT")

# °C where steel begins to turn to the form that dissolves carbon: below it nothing hardens, and nothing gets
# a new grain. The iron-carbon diagram of any textbook; from memory.
CHANGE = 727.0
MAGNETIC_TO = 770.0  # °C: iron's Curie point, 1043 K
LEAST_TO_HARDEN = 0.3  # % of carbon: from memory
BLUE_BRITTLE: Band = (200.0, 350.0)  # steel worked at the blue heat cracks: from memory

# % of carbon, and the band [°C] there; between the rows it goes evenly. From memory.
_NORMALISING = ((0.15, 890.0, 920.0), (0.4, 850.0, 870.0), (0.8, 800.0, 820.0))
_HARDENING = ((0.3, 840.0, 870.0), (0.45, 820.0, 850.0), (0.8, 780.0, 820.0))


@dataclass(frozen=True)
class Material:
    """A material. Density in kg/m³, carbon in per cent by mass, heats in °C (from, to).

    `welding` is None for what cannot be welded in the fire. `magnetic_to` is where a magnet lets go of it
    [°C]. The id "own" is an author's.
    """

    id: str
    title: str
    density: float
    carbon: float
    forging: Band
    welding: Band | None
    burns_at: float
    density_source: Cite
    heats_source: Cite = _HEATS
    note: str = ""
    magnetic_to: float = MAGNETIC_TO
    magnetic_source: Cite = _CURIE

    def mass(self, volume: float) -> float:
        """Return the mass [kg] of a volume [mm³]."""
        return self.density * volume * 1e-9

    @property
    def said(self) -> str:
        """The title in the middle of a sentence: a grade, such as C45 or EN 45, keeps its capitals."""
        first = self.title.split(" ", 1)[0]
        return self.title[0].lower() + self.title[1:] if first[1:].islower() else self.title

    @property
    def is_own(self) -> bool:
        """Whether an author described it."""
        return self.id == OWN

    @property
    def hardens(self) -> bool:
        """Whether it holds enough carbon to harden in a quench."""
        return self.carbon >= LEAST_TO_HARDEN

    @property
    def normalising(self) -> Band:
        """The heat to normalise or to soften it from [°C]; by its carbon, from memory."""
        return _by_carbon(_NORMALISING, self.carbon)

    @property
    def hardening(self) -> Band | None:
        """The heat to harden it from [°C]; None where it does not harden. By its carbon, from memory."""
        return _by_carbon(_HARDENING, self.carbon) if self.hardens else None

    @property
    def forbids(self) -> tuple[str, ...]:
        """What must not be done with it, each in a few words."""
        found = [] if self.hardens else ["hardening by a quench: too little carbon, case-harden it instead"]
        if self.welding is None:
            found.append("fire welding")
        if self.hardens:
            found.append("a quench from a forging heat: it cracks")
        found.append("bending or hammering at the blue heat: it cracks")
        return tuple(found)


def _by_carbon(rows: tuple[tuple[float, float, float], ...], carbon: float) -> Band:
    """Return the band of a carbon content, between the rows of a table and held at its ends."""
    if carbon <= rows[0][0]:
        return rows[0][1:]
    for (c0, low0, high0), (c1, low1, high1) in pairwise(rows):
        if carbon <= c1:
            x = (carbon - c0) / (c1 - c0)
            return low0 + x * (low1 - low0), high0 + x * (high1 - high0)
    return rows[-1][1:]


OWN = "own"

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
            magnetic_to=740,
            magnetic_source=Cite("MEMORY", note="all of it has changed by then, short of iron's own 770 °C"),
        ),
    )
}
