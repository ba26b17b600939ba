"""What is typed for an input of a formula: read in the reader's units, and settled for all to read alike."""

from __future__ import annotations

import re
from collections.abc import Callable

from calculators import units
from calculators.formula import SHARE, Limits
from calculators.sections import Section
from calculators.typed import (
    TypedError,
    parse_angle,
    parse_length,
    parse_mass,
    parse_number,
    parse_section,
    parse_temperature,
)
from calculators.wording import INCH, METRIC, UnitSystem

LONGEST = 60  # characters that are read of what was typed
_A_KILO = "a kg"
_LAST_NUMBER = re.compile(r"[\d¼½¾⅛⅜⅝⅞.,/\u2044]+(?!.*[\d¼½¾⅛⅜⅝⅞])")


def read_given(limits: Limits, text: str, system: UnitSystem) -> float | Section:
    """Return the value of what was typed for an input, in house units. Raises TypedError."""
    if limits.choices:
        if text not in limits.choices:
            named = ", ".join(label for label, _ in limits.choices.values())
            raise TypedError(f"“{text[:30]}” is not offered: choose one of {named}.")
        return limits.choices[text][1]
    if limits.unit == "section" or limits.of:
        section = parse_section(text, system.length_unit)
        return float(getattr(section, limits.of)) if limits.of else section
    return _readers(limits)[limits.unit](text, system) if limits.unit in _KNOWN else parse_number(text)


_KNOWN = ("mm", "kg", "°C", "°", SHARE, _A_KILO)


def _readers(limits: Limits) -> dict[str, Callable[[str, UnitSystem], float]]:
    zero_ok = limits.at_least == 0
    return {
        "mm": lambda text, system: parse_length(text, system.length_unit, zero_ok=zero_ok),
        "kg": lambda text, system: parse_mass(text, "lb" if system is INCH else "kg"),
        "°C": lambda text, system: parse_temperature(text, "F" if system is INCH else "C"),
        "°": lambda text, _: parse_angle(text),
        SHARE: lambda text, _: parse_number(text.strip().removesuffix("%")) / 100,
        _A_KILO: _price,
    }


def _price(text: str, system: UnitSystem) -> float:
    """Return a price a kilogram from one that may say what it is for: 2.50, 2.50 a kg, 1.25 a lb."""
    price, _, unit = text.partition(" a ")
    unit = unit.strip() or ("lb" if system is INCH else "kg")
    if unit not in ("lb", "kg"):
        raise TypedError(
            f"“{text[:30]}” names a weight that is not known here. Type a price such as 2.50 a kg."
        )
    return parse_number(price) / (units.factor("lb") if unit == "lb" else 1)


def settled(limits: Limits, text: str, system: UnitSystem) -> str:
    """Return what was typed with its unit said, so that it means the same to every reader.

    What is no number, or says its unit already, comes back as it is, without needless space.
    """
    text = " ".join(text.replace("\0", " ").split())[:LONGEST].strip()
    if limits.choices or _means(limits, text, METRIC) == _means(limits, text, INCH):
        return text
    for said in _with_unit(limits, text, system):
        if _means(limits, said, METRIC) == _means(limits, said, INCH) == _means(limits, text, system):
            return said
    return text


def _with_unit(limits: Limits, text: str, system: UnitSystem) -> tuple[str, ...]:
    inch = system is INCH
    if limits.unit == "°C":
        return (f"{text} {'F' if inch else 'C'}",)
    if limits.unit in ("kg", _A_KILO):
        weight = "lb" if inch else "kg"
        return (f"{text} {weight}" if limits.unit == "kg" else f"{text} a {weight}",)
    behind = _LAST_NUMBER.sub(lambda found: f"{found[0]} {system.length_unit}", text, count=1)
    return f"{text} {system.length_unit}", behind


def _means(limits: Limits, text: str, system: UnitSystem) -> float | Section | None:
    try:
        return read_given(limits, text, system)
    except TypedError:
        return None


def takes(limits: Limits, system: UnitSystem) -> str:
    """Return what an input understands, by example."""
    if limits.choices:
        return ""
    if limits.unit == "section" or limits.of:
        return (
            "a section: 20 x 50, 1/2 sq, round 12 mm"
            if system is METRIC
            else "a section: 1/2 sq, 2 x 1/4, round 12 mm"
        )
    said = {
        "mm": ("in mm, or with its unit: 8.5 cm, 3 1/2 in", 'in inches, or with its unit: 3 1/2", 90 mm'),
        "kg": ("in kg, or with its unit: 340 g, 2 lb 8 oz", "in pounds, or with its unit: 2 lb 8 oz, 340 g"),
        "°C": ("in °C, or said: 2100 F", "in °F, or said: 1150 C"),
        "°": ("in degrees, or in turns if said: 1 1/2 turns",) * 2,
        SHARE: ("in per cent",) * 2,
        _A_KILO: ("for a kilogram, or said: 1.25 a lb", "for a pound, or said: 2.50 a kg"),
        "min": ("in minutes",) * 2,
        "h": ("in hours",) * 2,
    }.get(limits.unit, ("a number: 2, 1.75, 1 3/4",) * 2)
    return said[0 if system is METRIC else 1]
