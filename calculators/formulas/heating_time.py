"""How long a bar takes to heat through."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.hot_steel import furnace_seconds_per_mm
from calculators.wording import Sentence, say

_UNSURE = 1.5  # a furnace is good to this factor
_LYING = {"free": ("hanging free, or on bars", 1.0), "floor": ("lying on the floor of the fire", 2.0)}


class HeatingTime(Formula):
    """Time for a bar to come to its heat in a furnace.

        t = A/P · ∫ ρ c dT / q(T),  q by radiation and moving gas

    Args:
        modulus: the section's area over its perimeter [mm]; a quarter of a square's side
        furnace: temperature of the furnace [°C]
        start: the bar before [°C]
        stop: the bar after [°C]
        lying: how it lies; on the floor half its skin sees the fire, and it takes twice as long

    Returns:
        Time [s], low and high.

    Valid for bar up to 40 mm in a furnace or a gas forge of an even heat, good to a factor of 1.5. A coke or
    coal fire heats by touch and blast and is outside it: time your own.

    Raises:
        ValueError: something is out of range, the bar is not to get hotter, or the furnace is no hotter.

    >>> round(HeatingTime(modulus=5).answer().value)
    220
    """

    id = "heating_time"
    title = "Heating: how long it takes"
    source = Cite(
        "EN-1993-1-2", "clause 3.4.1.2", "specific heat; radiation and gas derived here, from judgement"
    )
    group = "fire"
    words = ("heating up", "time to heat", "soak", "furnace", "gas forge")
    result = "Time to heat"
    operations = ("heat",)

    modulus: float = given("Section", "mm", above=0, of="modulus", example=("20 sq", "3/4 sq"))
    furnace: float = given("Furnace", "°C", at_least=600, at_most=1500, default=1250.0)
    start: float = given("Bar before", "°C", at_least=0, at_most=1300, default=20.0)
    stop: float = given("Bar after", "°C", at_least=100, at_most=1350, default=1150.0)
    lying: float = given("Lying", "", at_least=1, at_most=4, default=1.0, choices=_LYING)

    def answer(self) -> Answer:
        """Return the time [s] to heat."""
        if self.stop <= self.start:
            raise GivenError(f"A bar is heated up; {self.stop:g} °C is not above {self.start:g} °C.", "stop")
        if self.furnace <= self.stop:
            raise GivenError(
                f"A furnace at {self.furnace:g} °C does not heat a bar to {self.stop:g} °C.", "furnace"
            )
        per_mm = furnace_seconds_per_mm(self.furnace, self.start, self.stop)
        value = self.lying * per_mm * self.modulus
        working = (f"{self.lying:g} × " if self.lying != 1 else "") + f"{per_mm:.3g} × {self.modulus:.4g}"
        further = (
            Answer(value / _UNSURE, "s", "÷ 1.5", "low"),
            Answer(value * _UNSURE, "s", "× 1.5", "high"),
        )
        return Answer(value, "s", working, further=further, warnings=tuple(self._warnings()))

    def _warnings(self) -> list[Sentence]:
        found = []
        if self.modulus > 10:
            found.append(say("Bar this thick lags inside: give it longer, and let it soak through."))
        if self.furnace - self.stop < 30:
            found.append(
                say(
                    "So close to the furnace's own heat the last degrees take long, and the answer is unsure."
                )
            )
        if self.stop > 1300:
            found.append(say("Near this heat steel burns: watch for sparks."))
        return found
