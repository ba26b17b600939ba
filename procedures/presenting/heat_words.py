"""How the quantities of a heat plan are said: rounded to what is known of them, in the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import floor, log10

from calculators.formulas.heat_colour import chapman_name, stirling_name
from calculators.number_texts import SPACE, decimal
from calculators.wording import UnitSystem
from procedures.planning.ranges import Range

NAMES: Mapping[str, tuple[str, Callable[[float], str]]] = {
    "chapman": ("Chapman", chapman_name),
    "stirling": ("Stirling", stirling_name),
}
_DASH = "\N{EN DASH}"
_A_FEW = 5.0  # blows, or seconds


@dataclass(frozen=True, slots=True)
class Said:
    """A predicted quantity as text: what is typical, and "low–high", "" where they are the same."""

    typical: str
    spread: str = ""


UNSAID = Said("")


@dataclass(frozen=True, slots=True)
class HeatWords:
    """Words in a reader's units, and by the reader's table of heat colours, one of NAMES."""

    units: UnitSystem
    names: str

    def name_of(self, temperature: float) -> str:
        """Return the name of a heat [°C]."""
        return NAMES[self.names][1](temperature)

    def heat(self, temperature: float) -> str:
        """Return a heat [°C] with its name: "1180 °C yellow"."""
        return f"{self.units.temperature(temperature)} {self.name_of(temperature)}"

    def degrees(self, apart: float) -> Iterator[float]:
        """Yield temperatures [°C] that are round in the reader's degrees, so many of those apart."""
        at = apart
        while True:
            yield (at - 32) / 1.8 if self._fahrenheit else at
            at += apart

    def about(self, temperature: float) -> float:
        """Return a temperature [°C] that is to the nearest ten of the reader's degrees."""
        if self._fahrenheit:
            return (round(temperature * 1.8 + 32, -1) - 32) / 1.8
        return float(round(temperature, -1))

    @property
    def _fahrenheit(self) -> bool:
        return self.units.length_unit == "in"

    def seconds(self, value: Range) -> Said:
        """Return a time [s]; "a few s" where nobody would count them."""
        if value.typical < _A_FEW:
            return Said(f"a few{SPACE}s")
        say_it = self.units.seconds
        low, typical, high = (_whole(one) for one in (value.low, value.typical, value.high))
        spread = "" if low == high else f"{say_it(low)}{SPACE}{_DASH}{SPACE}{say_it(high)}"
        if high < 60 and low != high:
            spread = f"{low:g}{_DASH}{say_it(high)}"
        return Said(say_it(typical), spread)


def heats_said(value: Range) -> Said:
    """Return a number of heats, always whole."""
    low, typical, high = (round(one) for one in (value.low, value.typical, value.high))
    return Said(str(typical), "" if low == high else f"{low}{_DASH}{high}")


def minutes_said(value: Range) -> Said:
    """Return a time [s] in minutes."""
    low, typical, high = (_half_minutes(one) for one in (value.low, value.typical, value.high))
    return Said(f"{typical}{SPACE}min", "" if low == high else f"{low}{_DASH}{high}")


def blows_said(value: Range) -> Said:
    """Return a number of blows, to two figures; "a few" where nobody would count them."""
    if value.typical < _A_FEW:
        return Said("a few")
    texts = [decimal(two_figures(max(one, 1.0)), 0) for one in (value.low, value.typical, value.high)]
    return Said(texts[1], "" if texts[0] == texts[2] else f"{texts[0]}{_DASH}{texts[2]}")


def two_figures(value: float) -> float:
    """Return a value to two figures: no more is known of it."""
    if value <= 0:
        return 0.0
    return float(round(value, 1 - floor(log10(value))))


def _whole(seconds: float) -> float:
    """Return seconds as they are counted beside an anvil: whole ones, to two figures, and never none."""
    return float(round(two_figures(max(seconds, 1.0))))


def _half_minutes(seconds: float) -> str:
    """Return minutes as people say them: "½", "1½", "7"."""
    halves = max(round(seconds / 30), 1)
    if halves >= 10:
        return str(round(seconds / 60))
    whole, half = divmod(halves, 2)
    return (str(whole) if whole else "") + ("½" if half else "")


def capital(text: str) -> str:
    """Return a text with a capital first."""
    return text[:1].upper() + text[1:]
