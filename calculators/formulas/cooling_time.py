"""How long a piece takes to cool in still air."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, given
from calculators.formulas.working_time import radiation_seconds_per_mm
from calculators.wording import Sentence, say

BLACK = 500.0  # °C: no glow by day


def still_air_seconds(modulus: float, start: float, stop: float = BLACK) -> float:
    """Return the seconds in still air for a volume per skin [mm] between temperatures [°C]."""
    return modulus * radiation_seconds_per_mm(start, stop)


class CoolingTime(Formula):
    """Time a piece takes to cool in still air, as after normalising.

        t = ρ c / (3 ε σ) · (1/T₂³ - 1/T₁³) · A/P.  T in kelvin, c 650 J/(kg K)

    Args:
        modulus: the section's area over its perimeter [mm]; a quarter of a square's side
        start: temperature out of the fire [°C]
        stop: temperature to be reached [°C]

    Returns:
        Time [s], low and high beside it.

    Valid for bar up to 40 mm thick from a red heat to black. Two things left out cancel within 6 %: air
    carries off about a quarter more, and the change of the steel near 735 °C gives that much back. Good to
    15 %.

    Raises:
        ValueError: the modulus is zero or less, or a temperature is out of range.

    >>> round(CoolingTime(modulus=5, start=900, stop=500).answer().value, -1)
    290.0
    """

    id = "cooling_time"
    title = "Cooling in air"
    source = Cite("DERIVED", note="radiation of an evenly hot body; specific heat from EN-1993-1-2")
    group = "fire"
    words = ("air cooling", "cooling to black", "how long to black heat")
    result = "Time to cool"
    operations = ("normalise", "anneal")

    modulus: float = given("Section", "mm", above=0, of="modulus", example=("20 sq", "3/4 sq"))
    start: float = given("From", "°C", at_least=750, at_most=1000, default=900.0)
    stop: float = given("To", "°C", at_least=450, at_most=700, default=BLACK)

    def answer(self) -> Answer:
        """Return the time [s] in still air."""
        per_mm = radiation_seconds_per_mm(self.start, self.stop)
        value = self.modulus * per_mm
        working = f"{per_mm:.3g} × {self.modulus:g}"
        further = (
            Answer(value * 0.85, "s", "× 0.85", "low"),
            Answer(value * 1.15, "s", "× 1.15", "high"),
        )
        warnings: tuple[Sentence, ...] = ()
        if self.modulus > 10:
            warnings = (say("Bar this thick is hotter inside than outside: it takes longer than this."),)
        return Answer(value, "s", working, further=further, warnings=warnings)
