"""Mass of a bar of constant section."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, given


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

    area: float = given("Section area", "mm²", above=0)
    length: float = given("Length", "mm", above=0)
    density: float = given("Density", "kg/m³", above=0)

    def answer(self) -> Answer:
        """Return the mass [kg]."""
        mass = self.density * self.area * self.length * 1e-9
        return Answer(mass, "kg", f"{self.density:g} × {self.area:g} × {self.length:g} × 10⁻⁹")
