"""What people type: lengths, sections, angles, masses and temperatures, as smiths write them.

`20 x 50`, `ø12`, `1/2 sq`, `3-1/2"`, `8,5`, `1' 2 3/8"`, `½ in`. A small grammar of our own: nothing typed
reaches an evaluator, and what is not understood is refused with a sentence that says what would be.
"""

from __future__ import annotations

from calculators import units
from calculators.sections import Section, SectionError
from calculators.typed_reader import Reader, checked_mm, length, unit_of
from calculators.typed_sections import read_section
from calculators.typed_tokens import TypedError, shown

__all__ = [
    "TypedError",
    "parse_angle",
    "parse_length",
    "parse_mass",
    "parse_number",
    "parse_section",
    "parse_temperature",
]

_LENGTH_EXAMPLES = 'Type a length such as 60, 8.5, 8,5 cm, 3 1/2 in, 3-1/2" or 1\' 2 3/8".'
_SECTION_EXAMPLES = "Type a section such as 30 x 8, ø12, 1/2 sq, 20 hex, oct 14, half-round 20 or 30 x 8 r2."
_MASS_UNITS = {
    **dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "kilograms"), "kg"),
    **dict.fromkeys(("g", "gram", "grams"), "g"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
}
_ANGLE_UNITS = {
    **dict.fromkeys(("deg", "degree", "degrees", "°"), "deg"),
    **dict.fromkeys(("turn", "turns"), "turn"),
}


def parse_length(text: str, default_unit: str = "mm", *, zero_ok: bool = False) -> float:
    """Return a length [mm] from what was typed; a bare number is in the default unit: mm, cm, m, in or ft.

    Raises TypedError: not a length, below zero, zero (unless allowed), or more than 100 m.
    """
    try:
        reader = Reader(text)
        value, unit = length(reader)
        reader.done()
        return checked_mm(units.to_house(value, unit or default_unit), zero_ok)
    except TypedError as error:
        raise _refusal(text, error, _LENGTH_EXAMPLES) from None


def parse_section(text: str, default_unit: str = "mm") -> Section:
    """Return a Section from what was typed; sizes without any unit are in the default unit.

    Of two sizes the larger is the width. Raises TypedError: not a section, no shape, or sizes that cannot be.
    """
    try:
        return read_section(Reader(text), default_unit)
    except TypedError as error:
        raise _refusal(text, error, _SECTION_EXAMPLES) from None
    except SectionError as error:
        raise TypedError(f"{shown(text)} cannot be: {error}") from None


def parse_number(text: str, *, negative_ok: bool = False) -> float:
    """Return a plain number: 3, 1.75, 1,75, 1 3/4. Raises TypedError."""
    try:
        reader = Reader(text)
        sign = -1.0 if negative_ok and reader.take("-") else 1.0
        value = reader.number()
        reader.done()
        return sign * value
    except TypedError as error:
        raise _refusal(text, error, "Type a number such as 3, 1.75, 1,75 or 1 3/4.") from None


def parse_angle(text: str, *, negative_ok: bool = False) -> float:
    """Return an angle [deg]: 45, 22.5°, 30 deg, 1 1/2 turns. Raises TypedError; the most is 100 turns."""
    try:
        reader = Reader(text)
        sign = -1.0 if negative_ok and reader.take("-") else 1.0
        value = reader.number()
        value = units.to_house(value, unit_of(reader, _ANGLE_UNITS) or "deg")
        reader.done()
        if value > 36_000:
            raise TypedError("is more than 100 turns")
        return sign * value
    except TypedError as error:
        raise _refusal(text, error, "Type an angle such as 45, 22.5° or 1 1/2 turns.") from None


def parse_mass(text: str, default_unit: str = "kg") -> float:
    """Return a mass [kg]: 1.13 kg, 340 g, 2 lb 8 oz. Raises TypedError; more than 0, at most 100 t."""
    try:
        reader = Reader(text)
        value = reader.number()
        unit = unit_of(reader, _MASS_UNITS) or default_unit
        mass = units.to_house(value, unit)
        if unit == "lb" and reader.peek() is not None:
            ounces = reader.number()
            if ounces >= 16:
                raise TypedError("has sixteen ounces or more after the pounds")
            if unit_of(reader, _MASS_UNITS) != "oz":
                raise TypedError("has something else than ounces after the pounds")
            mass += units.to_house(ounces, "oz")
        reader.done()
        if mass <= 0:
            raise TypedError("is nothing: it must be more than zero")
        if mass > 100_000:
            raise TypedError("is more than 100 tonnes")
        return round(mass, 12)
    except TypedError as error:
        raise _refusal(text, error, "Type a mass such as 1.13 kg, 340 g or 2 lb 8 oz.") from None


def parse_temperature(text: str, default_unit: str = "C") -> float:
    """Return a temperature [°C]: 1150, 1150 °C, 2100 F. Raises TypedError; 0 to 3000 °C."""
    try:
        reader = Reader(text)
        value = reader.number()
        reader.take("°", "deg", "degrees")
        scale = reader.take("c", "f", "celsius", "fahrenheit") or default_unit
        reader.done()
        celsius = units.celsius(value) if scale.lower().startswith("f") else value
        if not 0 <= celsius <= 3000:
            raise TypedError("is outside 0 to 3000 °C")
        return round(celsius, 9)
    except TypedError as error:
        raise _refusal(text, error, "Type a temperature such as 1150, 1150 °C or 2100 °F.") from None


def _refusal(text: object, error: TypedError, examples: str) -> TypedError:
    return TypedError(f"{shown(str(text)) if str(text).strip() else 'What was typed'} {error}. {examples}")
