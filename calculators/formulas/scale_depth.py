"""How deep scale eats into the surface in a heat."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import exp, sqrt

from calculators.formula import SHARE, Answer, Cite, Formula, given
from calculators.wording import Sentence, say

GAS_CONSTANT = 8.314462618  # J/(mol K)
_ZERO = 273.15  # K at 0 °C
_RATE = 0.37  # g² of oxygen / (cm⁴ s)
_ACTIVATION = 138_070.0  # J/mol
IRON_PER_OXYGEN = 3.43  # by mass, in scale of 95 FeO, 4 Fe₃O₄, 1 Fe₂O₃
_IRON_DENSITY = 7.85  # g/cm³
FORGING_HEAT = 1150.0  # °C that the rule for a heat is made for
_GETTING_HOT = (
    0.00067  # mm² per mm of area over perimeter: heating in a 1250 °C furnace, and working down to 850
)
_SOAKING = 0.00363  # mm² per minute lying at the forging heat


@dataclass(frozen=True, slots=True)
class Depths:
    """Depths of metal lost [mm]: low, typical and high."""

    low: float
    typical: float
    high: float


@dataclass(frozen=True, slots=True)
class Habit:
    """How long the piece lies in the fire once hot [min], and how hard the fire oxidises (1 is plain air)."""

    soak: float
    factor: float


@dataclass(frozen=True, slots=True)
class Fire:
    """A fire and how it is kept, as low, typical and high habits; `welding` is false where it cannot weld."""

    id: str
    title: str
    low: Habit
    typical: Habit
    high: Habit
    welding: bool = True

    def depths(self, modulus: float, temperature: float = FORGING_HEAT) -> Depths:
        """Return the depths [mm] of one heat to a temperature [°C] for an area over perimeter [mm]."""
        habits = (self.low, self.typical, self.high)
        return Depths(*(depth_per_heat(modulus, habit.soak, habit.factor, temperature) for habit in habits))


# "average" is the rule's own low, typical and high. The others are judgement: soak and factor chosen so that
# bar of 12 to 25 mm loses per heat what smiths are taught for that fire (0.02-0.04 mm in coke, 0.03-0.06 in
# coal or good gas, 0.06-0.15 in a lean one, 0.01-0.03 by induction; from memory).
FIRES: dict[str, Fire] = {
    fire.id: fire
    for fire in (
        Fire("average", "Not known", Habit(0, 0.7), Habit(2, 1.0), Habit(5, 1.2)),
        Fire("coke", "Charcoal or deep coke, short soak", Habit(0, 0.4), Habit(0, 0.6), Habit(0.5, 0.6)),
        Fire("coal", "Coal, an average fire", Habit(0, 0.6), Habit(0.25, 0.7), Habit(0.5, 0.8)),
        Fire("gas", "Gas, neutral to slightly rich", Habit(0, 0.7), Habit(0.5, 0.7), Habit(1, 0.75)),
        Fire("gas_lean", "Gas, lean, or work left lying", Habit(0.5, 1.0), Habit(2, 1.0), Habit(5, 1.05)),
        Fire("induction", "Induction", Habit(0, 0.25), Habit(0, 0.4), Habit(0, 0.6), welding=False),
    )
}


def rate_constant(temperature: float) -> float:
    """Return kp [g² of oxygen / (cm⁴ s)] of iron in air at a temperature [°C]: W² = kp·t."""
    return _RATE * exp(-_ACTIVATION / (GAS_CONSTANT * (temperature + _ZERO)))


def heat_ratio(temperature: float, reference: float = FORGING_HEAT) -> float:
    """Return how many times deeper scale eats at a temperature than at a reference [°C] in the same time."""
    return sqrt(rate_constant(temperature) / rate_constant(reference))


def metal_depth(temperature: float, seconds: float, factor: float = 1.0) -> float:
    """Return the depth of metal lost [mm] in so many seconds at a temperature [°C], starting bare."""
    return _metal(sqrt(rate_constant(temperature) * seconds), factor)


def depth_of_history(history: Iterable[tuple[float, float]], factor: float = 1.0) -> float:
    """Return the depth [mm] after a history of (seconds, °C), starting bare and with the scale left on."""
    return _metal(sqrt(sum(rate_constant(temperature) * seconds for seconds, temperature in history)), factor)


def equivalent_time(history: Iterable[tuple[float, float]], temperature: float) -> float:
    """Return the seconds at one temperature [°C] that scale as much as a history of (seconds, °C)."""
    total = sum(rate_constant(each) * seconds for seconds, each in history)
    return total / rate_constant(temperature)


def depth_per_heat(
    modulus: float, soak: float = 2.0, factor: float = 1.0, temperature: float = FORGING_HEAT
) -> float:
    """Return the depth [mm] of one heat for a section's area over perimeter [mm] and a soak [min]."""
    depth = factor * sqrt(_GETTING_HOT * modulus + _SOAKING * soak)
    return depth if temperature == FORGING_HEAT else depth * heat_ratio(temperature)


def _metal(oxygen: float, factor: float) -> float:
    return factor * 10 * IRON_PER_OXYGEN * oxygen / _IRON_DENSITY


class ScaleDepth(Formula):
    """Depth of metal lost to scale all round in one heat; thin stock loses the largest share.

        depth = f · √(0.00067 · A/P + 0.00363 · soak) · √(kp(T) / kp(1150 °C))

    Args:
        modulus: the section's area over its perimeter [mm]; a quarter of a square's side
        soak: time lying in the fire once hot [min]
        factor: how hard the fire oxidises; 1 is plain air, 0.7 a good fire
        temperature: of the heat [°C]

    Returns:
        Depth [mm], low (no soak, f 0.7) and high (5 min, f 1.2) beside it, and the share of the section lost.

    Valid for plain steel of 1 to 8 mm area over perimeter, heated to 1150 °C in a furnace at 1250 °C and
    worked down to 850; the rate to 1250 °C. Good to a factor of 1.6. The rate is from memory; that scale
    comes off at every heat, so that each begins bare, is our reading of shop practice.

    Raises:
        ValueError: the modulus or factor is zero or less, the soak is below zero, or the temperature is out
        of range.

    >>> result = ScaleDepth(modulus=5, soak=2).answer()
    >>> round(result.value, 3), round(result["share"].value, 3)
    (0.103, 0.021)
    """

    id = "scale_depth"
    title = "Scale lost in a heat"
    source = Cite("DAVIES")
    group = "fire"
    words = ("scale loss", "fire scale", "burn off", "waste")
    result = "Depth lost all round"
    operations = ("heat", "finish")

    modulus: float = given("Section", "mm", above=0, of="modulus", example=("20 sq", "3/4 sq"))
    soak: float = given("Soak", "min", at_least=0, at_most=600, default=2.0)
    factor: float = given("Fire", "", above=0, at_most=5, default=1.0)
    temperature: float = given("Heat", "°C", at_least=500, at_most=1450, default=FORGING_HEAT)

    def answer(self) -> Answer:
        """Return the depth [mm] lost all round."""
        depth = depth_per_heat(self.modulus, self.soak, self.factor, self.temperature)
        range_ = FIRES["average"].depths(self.modulus, self.temperature)
        further = (
            Answer(range_.low, "mm", "soak 0, f 0.7", "low"),
            Answer(range_.high, "mm", "soak 5, f 1.2", "high"),
            Answer(depth / self.modulus, SHARE, f"{depth:.3g} / {self.modulus:g}", "share"),
        )
        ratio = heat_ratio(self.temperature)
        root = f"√({_GETTING_HOT} × {self.modulus:g} + {_SOAKING} × {self.soak:g})"
        working = f"{self.factor:g} × {root} × {ratio:.3g}"
        return Answer(depth, "mm", working, further=further, warnings=tuple(self._warnings()))

    def _warnings(self) -> list[Sentence]:
        found = []
        if not 1 <= self.modulus <= 8:
            found.append(
                say("The rule was made for 1 to 8 mm area over perimeter; this is {m:size}.", m=self.modulus)
            )
        if self.temperature > 1250:
            found.append(
                say("The rate is known to 1250 °C; {t:temperature} is above that.", t=self.temperature)
            )
        return found
