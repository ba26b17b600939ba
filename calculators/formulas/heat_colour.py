"""The colour of a heat: what smiths call it, and what it looks like."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise

from calculators import glow
from calculators.formula import Answer, Cite, Formula, Table, given
from calculators.wording import say

# Chapman's bands by the temperature [°C] each begins at.
CHAPMAN = (
    (426, "black red"),
    (593, "very dark red"),
    (704, "dark red"),
    (815, "cherry red"),
    (871, "light cherry"),
    (981, "orange"),
    (1093, "yellow"),
    (1259, "yellow white"),
    (1315, "white"),
)
# Stirling's are single temperatures; the nearest name is taken.
STIRLING = (
    (525, "just visible red"),
    (700, "dull red"),
    (800, "dull cherry"),
    (900, "full cherry"),
    (1000, "clear cherry"),
    (1100, "deep orange"),
    (1200, "clear orange"),
    (1300, "white heat"),
)
BLACK_HEAT = "black heat"  # no glow by day, and still burns


def chapman_name(temperature: float) -> str:
    """Return Chapman's name for a temperature [°C]."""
    place = bisect_right([start for start, _ in CHAPMAN], temperature)
    return CHAPMAN[place - 1][1] if place else BLACK_HEAT


def stirling_name(temperature: float) -> str:
    """Return Stirling's name for the nearest of his temperatures to a temperature [°C]."""
    if temperature < STIRLING[0][0]:
        return BLACK_HEAT
    return min(STIRLING, key=lambda named: abs(named[0] - temperature))[1]


class HeatColour(Formula):
    """The name of a heat's colour, and its look.

        Planck's law over the CIE 1931 colour-matching functions

    Args:
        temperature: of the iron [°C]

    Returns:
        Luminance of the glow [cd/m²]; as text, both tables' names, and the colour in sRGB.

    Valid indoors in dull light, by eye to 30 to 50 degrees Celsius; in sunshine all looks a band cooler.
    The two tables differ by 100 to 150 degrees at the same word, so the temperature is always said with the
    name. The colour on a screen is an illustration.

    Raises:
        ValueError: the temperature is outside 0 to 1600 °C.

    >>> HeatColour(temperature=1000).answer().text
    'orange (Chapman), clear cherry (Stirling)'
    """

    id = "heat_colour"
    title = "Heat colours"
    source = Cite("CHAPMAN", note="and Stirling; colour from CIE-1931")
    group = "fire"
    words = ("colour of heat", "cherry red", "orange", "glow", "temperature by eye")
    result = "What it looks like"
    operations = ("heat",)

    temperature: float = given("Temperature", "°C", at_least=0, at_most=1600, example=("1000", "1800"))

    def answer(self) -> Answer:
        """Return the luminance [cd/m²] of the glow, with its names and colour as text."""
        names = f"{chapman_name(self.temperature)} (Chapman), {stirling_name(self.temperature)} (Stirling)"
        look = glow.glow_hex(self.temperature)
        value = 10 ** glow.log10_luminance(self.temperature)
        return Answer(
            value,
            "cd/m²",
            "Planck's law seen by the CIE 1931 observer",
            label="luminance",
            text=names,
            colour=look,
        )

    @classmethod
    def table(cls) -> Table:
        """Return Chapman's bands, with what Stirling says in the middle of each."""
        rows, looks = [], []
        for (low, name), (high, _) in pairwise((*CHAPMAN, (1375, ""))):
            middle = (low + high) / 2
            band = say("{low:temperature} to {high:temperature}", low=low, high=high)
            rows.append((name, band, stirling_name(middle)))
            looks.append(glow.glow_hex(middle))
        heads = ("Chapman", "Temperature", "Stirling, in the middle of it")
        return Table("Heat colours", heads, tuple(rows), tuple(looks))
