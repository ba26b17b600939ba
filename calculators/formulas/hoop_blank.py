"""Length of bar for a hoop that is shrunk on."""

from __future__ import annotations

from math import pi

from calculators.figure import Figure
from calculators.figures.rings import ring
from calculators.formula import SHARE, Answer, Cite, Formula, given
from calculators.formulas.ring_blank import blank_length
from calculators.formulas.thermal_expansion import elongation
from calculators.wording import Sentence, say


class HoopBlank(Formula):
    """Length of bar for a hoop or a tyre, by what it goes round.

        L = π (D (1 - s) + t) + allowance

    Args:
        around: D, across what it goes round [mm]
        thickness: t, of the bar in the plane of the hoop [mm]
        smaller: s, how much smaller it is made, so that it shrinks on tight
        temperature: at which it is put on [°C]
        allowance: for the weld [mm]

    Returns:
        Length of bar [mm]; its inside cold; and how far it opens beyond what it goes round at its heat.

    Valid for even bar; exact by volume. How tight is the wheelwright's judgement: wood gives, iron does not.
    Carriage makers took the way round and 3½ to 3¾ thicknesses for a tyre, weld and upsetting included.

    Raises:
        ValueError: a size is zero or less, or something is out of range.

    >>> answer = HoopBlank(around=800, thickness=12, smaller=0.004).answer()
    >>> round(answer.value, 1), round(answer["opens beyond it by"].value, 1)
    (2540.9, 2.2)
    """

    id = "hoop_blank"
    title = "Hoop or tyre: the bar it takes"
    source = Cite("DERIVED", note="expansion from EN-1993-1-2; tightness from memory")
    group = "curved"
    words = ("hoop", "tyre", "tire", "band", "shrink on", "cart wheel")
    result = "Length of bar"
    operations = ("weld_ring",)
    any_unit = True

    around: float = given("Across what it goes round", "mm", above=0, example=("800", "32"))
    thickness: float = given("Thickness", "mm", above=0, example=("12", "1/2"))
    smaller: float = given("Made smaller by", SHARE, at_least=0, at_most=0.02, default=0.004)
    temperature: float = given("Put on at", "°C", at_least=20, at_most=1200, default=500.0)
    allowance: float = given("Weld allowance", "mm", at_least=0, default=0.0)

    def answer(self) -> Answer:
        """Return the length [mm] of bar."""
        inside = self.around * (1 - self.smaller)
        growth = elongation(self.temperature)
        room = inside * (1 + growth) - self.around
        working = f"π × ({self.around:g} × {1 - self.smaller:g} + {self.thickness:g})"
        further = (
            Answer(inside, "mm", f"{self.around:g} × {1 - self.smaller:g}", "inside, cold"),
            Answer(room, "mm", f"{inside:.6g} × (1 + {growth:.4g}) - {self.around:g}", "opens beyond it by"),
            Answer(pi * self.around, "mm", f"π × {self.around:g}", "the way round"),
        )
        warnings: tuple[Sentence, ...] = ()
        if room <= 0:
            warnings = (
                say("At {heat:temperature} it does not open enough to go on.", heat=self.temperature),
            )
        if self.allowance:
            working += f" + {self.allowance:g}"
        length = blank_length(inside, self.thickness, self.allowance)
        return Answer(length, "mm", working, further=further, warnings=warnings)

    def figure(self) -> Figure:
        """Return the hoop."""
        return ring(self.around * (1 - self.smaller), self.thickness)
