"""How long a heat lasts: the time a bar cools from its forging heat to where work stops."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.wording import Sentence, say

_ZERO = 273.15  # K at 0 °C
_BOLTZMANN = 5.670374419e-8  # W/(m² K⁴)
_HEAT = 650.0  # J/(kg K), steel above 900 °C, EN 1993-1-2
_EMISSIVITY = 0.8  # oxidised steel; instrument tables give 0.74 to 0.89
_DENSITY = 7850.0  # kg/m³
_AIR = 0.915  # still air's share: fitted to the lumped body with convection, 850 to 1250 °C
_ANVIL = 0.7  # the anvil's and the tools' (from memory; contact is the real unknown)


def radiation_seconds_per_mm(start: float, stop: float) -> float:
    """Return the seconds per mm of area over perimeter between temperatures [°C], by radiation alone."""
    hot, cold = start + _ZERO, stop + _ZERO
    per_metre = _DENSITY * _HEAT / (3 * _EMISSIVITY * _BOLTZMANN) * (cold**-3 - hot**-3)
    return per_metre / 1000


def air_seconds(modulus: float, start: float = 1150.0, stop: float = 850.0) -> float:
    """Return the seconds in still air for a section's area over perimeter [mm] between temperatures [°C]."""
    return modulus * _AIR * radiation_seconds_per_mm(start, stop)


def anvil_seconds(modulus: float, start: float = 1150.0, stop: float = 850.0) -> float:
    """Return the seconds at the anvil for an area over perimeter [mm] between temperatures [°C]."""
    return _ANVIL * air_seconds(modulus, start, stop)


class WorkingTime(Formula):
    """Time a bar stays hot enough to work.

        t = 0.915 · ρ c / (3 ε σ) · (1/T₂³ - 1/T₁³) · A/P in still air; × 0.7 at the anvil.  T in kelvin

    Args:
        modulus: the section's area over its perimeter [mm]; a quarter of a square's side
        start: temperature out of the fire [°C]
        stop: temperature at which work stops [°C]

    Returns:
        Time at the anvil [s], low and high, and the time in still air.

    Valid for bar up to 40 mm thick between 850 and 1250 °C: 12.3 s per mm in air from 1150 to 850. In air
    good to 15 %; at the anvil to a factor of 1.4.

    Raises:
        ValueError: the modulus is zero or less, a temperature is out of range, or the stop is not below the
        start.

    >>> result = WorkingTime(modulus=5).answer()
    >>> round(result.value), round(result["in air"].value)
    (43, 62)
    """

    id = "working_time"
    title = "How long a heat lasts"
    source = Cite(
        "EN-1993-1-2",
        "clause 3.4.1.2",
        "specific heat; radiation derived here, the anvil's share from memory",
    )
    group = "fire"
    words = ("time in the heat", "working time", "how long to hammer")
    result = "Time at the anvil"
    operations = ("heat",)

    modulus: float = given("Section", "mm", above=0, of="modulus", example=("20 sq", "3/4 sq"))
    start: float = given("Out of the fire", "°C", at_least=600, at_most=1350, default=1150.0)
    stop: float = given("Work stops", "°C", at_least=500, at_most=1350, default=850.0)

    def answer(self) -> Answer:
        """Return the time [s] at the anvil."""
        if self.stop >= self.start:
            raise GivenError(
                f"Work stops below the heat it starts at; {self.stop:g} °C is not below {self.start:g} °C.",
                "stop",
            )
        per_mm = radiation_seconds_per_mm(self.start, self.stop)
        in_air = air_seconds(self.modulus, self.start, self.stop)
        value = anvil_seconds(self.modulus, self.start, self.stop)
        further = (
            Answer(in_air, "s", f"{_AIR} × {per_mm:.4g} × {self.modulus:g}", "in air"),
            Answer(value / 1.4, "s", "÷ 1.4", "low"),
            Answer(value * 1.4, "s", "× 1.4", "high"),
        )
        working = f"{_ANVIL} × {_AIR} × {per_mm:.4g} × {self.modulus:g}"
        return Answer(value, "s", working, further=further, warnings=tuple(self._warnings()))

    def _warnings(self) -> list[Sentence]:
        found = []
        if self.stop < 850 or self.start > 1250:
            found.append(say("The rule is good between {a:temperature} and {b:temperature}.", a=850, b=1250))
        if self.modulus > 10:
            found.append(say("Bar this thick is much hotter inside than outside: it works longer than this."))
        return found
