"""How deep the carbon goes in case-hardening."""

from __future__ import annotations

from math import sqrt

from calculators.formula import Answer, Cite, Formula, given

_INCH = 25.4  # mm
_FACTOR = 31.6  # inches per root of an hour
_HEAT = 6700.0  # degrees Rankine
_TO_RANKINE = 460.0


def rankine(temperature: float) -> float:
    """Return a temperature [°C] as the formula counts it: degrees Fahrenheit and 460."""
    return temperature * 9 / 5 + 32 + _TO_RANKINE


def case_depth(temperature: float, hours: float) -> float:
    """Return the total depth [mm] of the case after so many hours at a temperature [°C]."""
    return float(_INCH * _FACTOR * sqrt(hours) * 10 ** (-_HEAT / rankine(temperature)))


def hours_for(temperature: float, depth: float) -> float:
    """Return the hours at a temperature [°C] that a case of this total depth [mm] takes."""
    return (depth / case_depth(temperature, 1.0)) ** 2


class CaseDepth(Formula):
    """Total depth of the case that carbon makes in mild steel or wrought iron.

        depth = 25.4 · 31.6 · √h · 10^(-6700 / T),  T in °F + 460

    Args:
        temperature: of the pack [°C]
        hours: at that temperature, heating up not counted [h]

    Returns:
        Total depth [mm], and what an hour and four hours give.

    Valid for plain low-carbon steel whose surface is kept full of carbon, from 850 to 950 °C. It is the
    total depth: the hard part is shallower.

    Raises:
        ValueError: the temperature is outside 750 to 1000 °C, or the hours are outside 0 to 100.

    >>> round(CaseDepth(temperature=925, hours=4).answer().value, 2)
    1.26
    """

    id = "case_depth"
    title = "Depth of a case"
    source = Cite("HARRIS")
    group = "fire"
    words = ("case hardening", "carburising", "pack hardening")
    result = "Depth of the case"
    operations = ("case_harden",)

    temperature: float = given("Heat", "°C", at_least=750, at_most=1000, default=900.0)
    hours: float = given("Hours", "h", above=0, at_most=100, default=4.0)

    def answer(self) -> Answer:
        """Return the total depth [mm] of the case."""
        working = f"25.4 × 31.6 × √{self.hours:g} × 10^(-6700 / {rankine(self.temperature):.0f})"
        further = tuple(
            Answer(case_depth(self.temperature, hours), "mm", f"√{hours:g} h", label)
            for hours, label in ((1.0, "in an hour"), (4.0, "in four hours"))
        )
        return Answer(case_depth(self.temperature, self.hours), "mm", working, further=further)
