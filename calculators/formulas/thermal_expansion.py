"""How much longer a bar measures hot than cold."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, given
from calculators.wording import Sentence, say

_KNOWN_TO = 1200.0  # °C


def elongation(temperature: float) -> float:
    """Return the relative elongation of carbon steel from 20 °C to a temperature [°C]."""
    if temperature < 750:
        return 1.2e-5 * temperature + 0.4e-8 * temperature**2 - 2.416e-4
    if temperature <= 860:
        return 1.1e-2  # it shrinks as much as it expands while it changes to austenite
    return 2e-5 * temperature - 6.2e-3


def hot_length(cold: float, temperature: float) -> float:
    """Return what a cold length [mm] measures at a temperature [°C]."""
    return cold * (1 + elongation(temperature))


def cold_length(hot: float, temperature: float) -> float:
    """Return what a length [mm] measured at a temperature [°C] will be when cold."""
    return hot / (1 + elongation(temperature))


class ThermalExpansion(Formula):
    """Length to measure on a hot bar so that it is right when cold.

        hot = cold · (1 + ε(T)),  ε = 2·10⁻⁵ T - 6.2·10⁻³ above 860 °C

    Args:
        cold: length wanted cold [mm]
        temperature: of the bar when measured [°C]

    Returns:
        Length to measure hot [mm], and the difference.

    Valid for carbon steel from 20 to 1200 °C; used to 1300.

    Raises:
        ValueError: the length is zero or less, or the temperature outside 20 to 1300 °C.

    >>> round(ThermalExpansion(cold=500, temperature=1000).answer().value, 1)
    506.9
    """

    id = "thermal_expansion"
    title = "Measuring hot"
    source = Cite("EN-1993-1-2", "clause 3.4.1.1")
    group = "fire"
    words = ("expansion", "shrinkage", "size when hot")
    result = "Length when hot"
    operations = ("inspect",)

    cold: float = given("Length cold", "mm", above=0, example=("500", "20"))
    temperature: float = given("Heat", "°C", at_least=20, at_most=1300, default=1000.0)

    def answer(self) -> Answer:
        """Return the length [mm] to measure hot."""
        hot = hot_length(self.cold, self.temperature)
        growth = elongation(self.temperature)
        further = (Answer(hot - self.cold, "mm", f"{self.cold:g} × {growth:.4g}", "longer by"),)
        warnings: tuple[Sentence, ...] = ()
        if self.temperature > _KNOWN_TO:
            warnings = (
                say("Expansion is given to 1200 °C; {t:temperature} is above that.", t=self.temperature),
            )
        return Answer(hot, "mm", f"{self.cold:g} × (1 + {growth:.4g})", further=further, warnings=warnings)
