"""The colours that bright steel runs through as it is tempered."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, Table, given
from calculators.wording import say

NO_COLOUR = "no colour yet"
# Temperature [°C] and name: Ilgen's in degrees Fahrenheit to 570 °F, the last three from the stockholder's
# chart.
COLOURS = (
    ((430 - 32) / 1.8, "very pale yellow"),
    ((460 - 32) / 1.8, "straw yellow"),
    ((480 - 32) / 1.8, "dark straw"),
    ((500 - 32) / 1.8, "bronze"),
    ((535 - 32) / 1.8, "dark purple"),
    ((550 - 32) / 1.8, "dark blue"),
    ((570 - 32) / 1.8, "very dark blue"),
    (310.0, "light blue"),
    (320.0, "grey blue"),
    (330.0, "grey green"),
)
_FIRST = 205.0  # °C: half a step below the first colour
_LAST = 345.0  # °C, above which the grey says no more
# What tools are let down to [°C, from and to]: Dooley's yellow for edges and blue for springs and what is
# struck; where one ends and the next begins is from memory.
USES = (
    (205.0, 235.0, "scrapers, hammer faces and light cutting edges"),
    (235.0, 262.0, "punches, dies and cutting edges"),
    (262.0, 285.0, "cold chisels and struck tools"),
    (285.0, 310.0, "springs and screwdrivers"),
)


def temper_name(temperature: float) -> str:
    """Return the name of the nearest temper colour to a temperature [°C]."""
    if temperature < _FIRST:
        return NO_COLOUR
    if temperature > _LAST:
        return "grey"
    return min(COLOURS, key=lambda named: abs(named[0] - temperature))[1]


def temper_use(temperature: float) -> str:
    """Return what is let down to a temperature [°C]; "" where nothing usual is."""
    return next((use for low, high, use in USES if low <= temperature < high), "")


class TemperColour(Formula):
    """The colour of oxide on bright steel at a tempering heat.

        the nearest of the printed colours

    Args:
        temperature: of the steel [°C]

    Returns:
        The temperature [°C] printed for that colour; as text, its name and what is let down to it.

    Valid for plain carbon steel, clean and bright, a few minutes at its heat: longer makes the colour deeper,
    and alloys shift it. Tables agree to 10 degrees Celsius; Dooley has dark blue at 299 °C where
    Ilgen has it at 288 °C.

    Raises:
        ValueError: the temperature is outside 100 to 700 °C.

    >>> TemperColour(temperature=250).answer().text
    'dark straw: punches, dies and cutting edges'
    """

    id = "temper_colour"
    title = "Temper colours"
    source = Cite("ILGEN", "chapter 4", "above 300 °C TEMPER-CHART")
    group = "fire"
    words = ("tempering", "straw", "blue", "letting down")
    result = "Nearest printed colour"
    operations = ("temper", "harden")

    temperature: float = given("Temperature", "°C", at_least=100, at_most=700, default=250.0)

    def answer(self) -> Answer:
        """Return the temperature [°C] of the nearest colour, its name as text."""
        name, use = temper_name(self.temperature), temper_use(self.temperature)
        printed = next((at for at, colour in COLOURS if colour == name), self.temperature)
        return Answer(printed, "°C", "nearest printed colour", text=f"{name}: {use}" if use else name)

    @classmethod
    def table(cls) -> Table:
        """Return the printed colours and what is let down to each."""
        rows = tuple((name, say("{at:temperature}", at=at), temper_use(at)) for at, name in COLOURS)
        return Table("Temper colours", ("Colour", "Temperature", "Let down to it"), rows)
