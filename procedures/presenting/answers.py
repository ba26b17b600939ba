"""The values of a formula as a page says them: rounded for the eye, in the reader's units."""

from __future__ import annotations

from collections.abc import Callable
from math import floor, isfinite, log10

from calculators import units
from calculators.formula import SHARE
from calculators.number_texts import SPACE, decimal, inches
from calculators.wording import METRIC, UnitSystem

_YARD = 36.0  # inches, from where feet are said
_SMALL = 2.0  # mm, under which a tenth is too coarse to say it in


def said(value: float, unit: str, system: UnitSystem) -> str:
    """Return a value given in a house unit with its unit, as the reader wants it."""
    if not isfinite(value):
        return "beyond reckoning"
    say = _WAYS.get(unit)
    return say(value, system) if say else f"{significant(value)}{SPACE}{unit}".rstrip(SPACE)


def exact(value: float, unit: str) -> str:
    """Return a value as its sum gives it, in its own unit: for the end of a worked line."""
    if unit == SHARE:
        return f"{significant(100 * value)}{SPACE}%"
    return f"{significant(value)}{SPACE}{unit}".rstrip(SPACE)


def significant(value: float) -> str:
    """Return a number to four figures, the larger ones to whole numbers."""
    if not value or not isfinite(value):
        return decimal(0, 0)
    return decimal(value, max(0, min(9, 3 - floor(log10(abs(value))))))


def _length(mm: float, system: UnitSystem) -> str:
    inch = units.from_house(mm, "in")
    if 0 < abs(mm) < _SMALL:
        metric = decimal(mm, 2 if abs(mm) >= 0.1 else 3)
        return (
            f"{metric}{SPACE}mm"
            if system is METRIC
            else f"{decimal(inch, 3 if abs(mm) >= 0.1 else 4)}{SPACE}in"
        )
    if system is METRIC or abs(inch) > _YARD:
        return system.length(mm)
    # Finer than a step's card has it: who asks for a size by itself means to measure it.
    parts = 64 if abs(inch) < 0.5 else 32 if abs(inch) < 6 else 16
    return f"{inches(inch, parts)}{SPACE}in"


_WAYS: dict[str, Callable[[float, UnitSystem], str]] = {
    "mm": _length,
    "mm²": lambda value, system: system.area(value),
    "mm³": lambda value, system: system.volume(value),
    "kg": lambda value, system: system.mass(value),
    "s": lambda value, system: system.seconds(value),
    "°C": lambda value, system: system.temperature(value),
    "°": lambda value, system: system.angle(value),
    SHARE: lambda value, system: system.percent(value),
    "%": lambda value, system: system.percent(value / 100),
    "": lambda value, system: significant(value),
}
