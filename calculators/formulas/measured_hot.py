"""The size when cold of what was measured hot."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, given
from calculators.formulas.thermal_expansion import cold_length, elongation
from calculators.wording import Sentence, say


class MeasuredHot(Formula):
    """What a length measured hot is when it is cold.

        L_cold = L_hot / (1 + ΔL/L)

    Args:
        hot: length measured hot [mm]
        temperature: at which it was measured [°C]

    Returns:
        Length cold [mm], and by how much it shrinks.

    Valid for carbon steel to 1200 °C, used to 1300. Between 750 and 860 °C the steel changes and does not
    grow.

    Raises:
        ValueError: the length is zero or less, or the temperature outside 20 to 1300 °C.

    >>> round(MeasuredHot(hot=300, temperature=1000).answer().value, 1)
    295.9
    """

    id = "measured_hot"
    title = "Measured hot: the size when cold"
    source = Cite("EN-1993-1-2", "clause 3.4.1.1")
    group = "fire"
    words = ("hot rule", "shrinkage", "hot to cold", "contraction")
    result = "Length when cold"
    operations = ("inspect",)

    hot: float = given("Length measured hot", "mm", above=0, example=("300", "12"))
    temperature: float = given("Heat", "°C", at_least=20, at_most=1300, default=1000.0)

    def answer(self) -> Answer:
        """Return the length [mm] when cold."""
        growth = elongation(self.temperature)
        cold = cold_length(self.hot, self.temperature)
        further = (Answer(self.hot - cold, "mm", f"{self.hot:g} - {cold:.6g}", "shrinks by"),)
        warnings: tuple[Sentence, ...] = ()
        if self.temperature > 1200:
            warnings = (say("Expansion is known to {known:temperature} only.", known=1200),)
        return Answer(cold, "mm", f"{self.hot:g} / (1 + {growth:.4g})", further=further, warnings=warnings)
