"""Fields for what smiths type: read by the calculators' grammar, shown back in the reader's units.

A field's clean value is the stored form of what was typed, in house units. Text that was left as it was shown
gives the stored value back exactly, so that rounding for show never creeps into a procedure.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from calculators import typed
from calculators.number_texts import MINUS, SPACE, decimal
from calculators.sections import Section, SectionError
from calculators.typed import TypedError
from calculators.wording import UnitSystem

LONGEST = 200  # letters; the longest sensible size has thirty

Parse = Callable[[str], Any]


class TypedField(forms.Field):
    """A line of text that `parse` turns into a stored value; `shown` is the text of the value stored now."""

    def __init__(self, parse: Parse, stored: Any, shown: str, unit: str = "", **kwargs: Any) -> None:
        self.parse = parse
        self.stored = stored
        self.shown = shown
        self.unit = unit
        kwargs.setdefault("widget", forms.TextInput(attrs=quiet()))
        kwargs.setdefault("required", False)
        super().__init__(initial=shown, **kwargs)

    def to_python(self, value: Any) -> Any:
        """Return the stored form of the text, or None for nothing. Raises ValidationError."""
        text = str(value or "").strip()
        if not text:
            return None
        if self.stored is not None and text == self.shown:
            return self.stored
        if len(text) > LONGEST:
            raise ValidationError(f"This is {len(text)} characters long; a size has at most {LONGEST}.")
        try:
            return self.parse(text)
        except TypedError as error:
            raise ValidationError(str(error), code="typed") from error


def quiet(**more: str) -> dict[str, str]:
    """Return the attributes of an input that is typed in, and that no browser should second-guess."""
    return {"autocomplete": "off", "autocapitalize": "off", "spellcheck": "false", "data-typed": "", **more}


def length_field(units: UnitSystem, stored: Any, *, zero_ok: bool = True, **kwargs: Any) -> TypedField:
    """Return a field for a length; limits are the parameter's own business."""

    def parse(text: str) -> float:
        return typed.parse_length(text, units.length_unit, zero_ok=zero_ok)

    shown = _raw(stored) if not _is_number(stored) else length_text(units, stored)
    keys = quiet(inputmode="decimal") if units.length_unit == "mm" else quiet()
    return TypedField(parse, stored, shown, units.length_unit, widget=forms.TextInput(attrs=keys), **kwargs)


def section_field(units: UnitSystem, stored: Any, **kwargs: Any) -> TypedField:
    """Return a field for a section."""

    def parse(text: str) -> dict[str, object]:
        word, _, rest = text.casefold().partition(" ")
        if word == "point" and not rest:
            return Section.point().to_json()
        if word == "edge" and rest:
            return Section.edge(typed.parse_length(rest, units.length_unit)).to_json()
        return typed.parse_section(text, units.length_unit).to_json()

    return TypedField(parse, stored, section_text(units, stored), units.length_unit, **kwargs)


def angle_field(units: UnitSystem, stored: Any, **kwargs: Any) -> TypedField:
    """Return a field for an angle in degrees."""

    def parse(text: str) -> float:
        return typed.parse_angle(_plain_minus(text), negative_ok=True)

    shown = decimal(stored, 2) if _is_number(stored) else _raw(stored)
    return TypedField(parse, stored, shown, "°", **kwargs)


def number_field(units: UnitSystem, stored: Any, unit: str = "", **kwargs: Any) -> TypedField:
    """Return a field for a plain number; one in °C is read and shown in the reader's degrees."""
    if unit in ("°C", "degC"):
        return _temperature_field(units, stored, **kwargs)

    def parse(text: str) -> float:
        bare = text.removesuffix(unit).strip() if unit else text
        return typed.parse_number(_plain_minus(bare), negative_ok=True)

    shown = decimal(stored, 3) if _is_number(stored) else _raw(stored)
    return TypedField(parse, stored, shown, unit, **kwargs)


def _temperature_field(units: UnitSystem, stored: Any, **kwargs: Any) -> TypedField:
    scale = "F" if units.length_unit == "in" else "C"

    def parse(text: str) -> float:
        return typed.parse_temperature(text, scale)

    shown = units.temperature(stored).split(SPACE)[0] if _is_number(stored) else _raw(stored)
    return TypedField(parse, stored, shown, f"°{scale}", **kwargs)


def names_field(stored: Any, **kwargs: Any) -> TypedField:
    """Return a field for several names, with commas between."""

    def parse(text: str) -> list[str]:
        return [one.strip() for one in text.split(",") if one.strip()]

    is_list = isinstance(stored, list | tuple) and all(isinstance(one, str) for one in stored)
    shown = ", ".join(stored) if is_list else _raw(stored)
    return TypedField(parse, stored, shown, **kwargs)


def angles_field(stored: Any, **kwargs: Any) -> TypedField:
    """Return a field for several angles, with spaces between."""
    return _several(stored, lambda one: typed.parse_angle(one, negative_ok=True), "°", **kwargs)


def numbers_field(stored: Any, **kwargs: Any) -> TypedField:
    """Return a field for several numbers, with spaces between."""
    return _several(stored, typed.parse_number, **kwargs)


def _several(stored: Any, parse_one: Callable[[str], float], unit: str = "", **kwargs: Any) -> TypedField:
    def parse(text: str) -> list[float]:
        if re.search(r"\d,\d", text):
            raise TypedError(
                f"“{text}” could be one number or several: type a space between them, a point for decimals."
            )
        return [parse_one(_plain_minus(one)) for one in re.split(r"[;,\s]+", text) if one]

    is_list = isinstance(stored, list | tuple) and all(_is_number(one) for one in stored)
    shown = "  ".join(decimal(one, 3) for one in stored) if is_list else _raw(stored)
    return TypedField(parse, stored, shown, unit, **kwargs)


def price_field(units: UnitSystem) -> forms.CharField:
    """Return a field for what a kilogram of bar costs, or a pound; `price_of` reads it."""
    each = "pound" if units.length_unit == "in" else "kilogram"
    return forms.CharField(label=f"Price of a {each}", required=False, max_length=20)


def price_of(text: str | None) -> float | None:
    """Return a price as typed, or None for none. Raises ValidationError."""
    if not (text or "").strip():
        return None
    try:
        return typed.parse_number((text or "").strip())
    except TypedError as error:
        raise ValidationError(str(error), code="typed") from error


# -- texts -------------------------------------------------------------------------------------------


def length_text(units: UnitSystem, mm: float) -> str:
    """Return a length as it stands in an input: without its unit where a bare number is read in it."""
    if units.length_unit == "mm":
        return decimal(mm, 2)
    text = units.length(mm).replace(SPACE, " ")
    return text.removesuffix(" in") if " ft" not in text else text


def section_text(units: UnitSystem, stored: Any) -> str:
    """Return a stored section as it stands in an input."""
    if not isinstance(stored, Mapping):
        return _raw(stored)
    try:
        section = Section.from_json(dict(stored))
    except SectionError:
        return _raw(stored)
    return units.section_short(section).replace(SPACE, " ")


def _raw(stored: Any) -> str:
    """Return a stored value that does not read as it is stored: whoever mends it must see it."""
    if stored is None:
        return ""
    return stored if isinstance(stored, str) else json.dumps(stored, ensure_ascii=False)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e12


def _plain_minus(text: str) -> str:
    return text.replace(MINUS, "-")
