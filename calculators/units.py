"""Factors between the house units (mm, kg, °C, s, deg) and the others: the only file that knows pint.

Only names from the table below reach pint, never anything typed.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry

# Our name for a unit: pint's name for it and for the house unit of its kind.
_UNITS = {
    "mm": ("millimeter", "millimeter"),
    "cm": ("centimeter", "millimeter"),
    "m": ("meter", "millimeter"),
    "in": ("inch", "millimeter"),
    "ft": ("foot", "millimeter"),
    "in²": ("inch**2", "millimeter**2"),
    "cm³": ("centimeter**3", "millimeter**3"),
    "in³": ("inch**3", "millimeter**3"),
    "kg": ("kilogram", "kilogram"),
    "g": ("gram", "kilogram"),
    "lb": ("pound", "kilogram"),
    "oz": ("ounce", "kilogram"),
    "s": ("second", "second"),
    "min": ("minute", "second"),
    "h": ("hour", "second"),
    "deg": ("degree", "degree"),
    "rad": ("radian", "degree"),
    "turn": ("turn", "degree"),
}


@cache
def _registry() -> UnitRegistry[float]:
    # Imported here because pint takes longer to import than all the rest of the calculators.
    from pint import UnitRegistry

    return UnitRegistry()


@cache
def factor(unit: str) -> float:
    """Return how many house units one of a unit is: 25.4 for "in".

    Raises KeyError for a unit that is not in the table.
    """
    theirs, house = _UNITS[unit]
    if theirs == house:
        return 1.0
    # 15 figures keep exact what is exact by definition: 25.4 mm to the inch, 0.45359237 kg to the pound.
    return float(f"{_registry().Quantity(1, theirs).to(house).magnitude:.15g}")


def to_house(value: float, unit: str) -> float:
    """Return a value given in a unit in house units. Raises KeyError for an unknown unit."""
    return value * factor(unit)


def from_house(value: float, unit: str) -> float:
    """Return a value in house units in another unit. Raises KeyError for an unknown unit."""
    return value / factor(unit)


def factors() -> dict[str, float]:
    """Return how many house units one of each unit is."""
    return {unit: factor(unit) for unit in _UNITS}


@cache
def fahrenheit_line() -> tuple[float, float]:
    """Return 0 °C in °F and how many °F a degree C is."""
    quantity = _registry().Quantity
    zero = float(quantity(0, "degC").to("degF").magnitude)
    hundred = float(quantity(100, "degC").to("degF").magnitude)
    return round(zero, 9), round((hundred - zero) / 100, 9)


def celsius(fahrenheit: float) -> float:
    """Return a temperature in °C."""
    zero, per_degree = fahrenheit_line()
    return (fahrenheit - zero) / per_degree


def fahrenheit(celsius: float) -> float:
    """Return a temperature in °F."""
    zero, per_degree = fahrenheit_line()
    return zero + per_degree * celsius
