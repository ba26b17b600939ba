"""Mass of a bar of constant section."""

from __future__ import annotations

from calculators.figure import Figure
from calculators.figures.bars import bar
from calculators.formula import Answer, Cite, Formula, given
from calculators.materials import MATERIALS

DENSITIES = {  # kg/m³
    one.id: (f"{one.title}, {one.density:g} kg/m³", one.density) for one in MATERIALS.values()
}


class BarMass(Formula):
    """Mass of a bar of constant section.

        m = ρ · A · L

    Args:
        area: cross-section [mm²]
        length: length of the bar [mm]
        density: density of the material [kg/m³]

    Returns:
        Mass [kg].

    Valid for a section that does not change along the bar. Rolled bar is within about 7 % of its nominal
    area.

    Raises:
        ValueError: an input is zero or less.

    >>> BarMass(area=400, length=1000, density=7850).answer().value
    3.14
    """

    id = "bar_mass"
    title = "Weight of a bar"
    source = Cite("DERIVED")
    group = "stock"
    words = ("mass", "weight of steel", "kilos", "pounds per foot")
    result = "Mass"
    operations = ("cut_off", "mark_out")

    area: float = given("Section", "mm²", above=0, of="area", example=("20 x 50", "2 x 3/4"))
    length: float = given("Length", "mm", above=0, example=("1000", "3 ft"))
    density: float = given("Material", "kg/m³", above=0, default=7850.0, choices=DENSITIES)

    def answer(self) -> Answer:
        """Return the mass [kg]."""
        mass = self.density * self.area * self.length * 1e-9
        return Answer(mass, "kg", f"{self.density:g} × {self.area:g} × {self.length:g} × 10⁻⁹")

    def figure(self) -> Figure:
        """Return the bar."""
        return bar(self.area, self.length)
