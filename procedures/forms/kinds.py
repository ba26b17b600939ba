"""The field of each kind of parameter that has one: made of the parameter, its value and what is there."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from django import forms

from procedures.engine.parameters.params import Angle, Choice, Number

from .typed import (
    angle_field,
    angles_field,
    length_field,
    names_field,
    number_field,
    numbers_field,
    quiet,
    section_field,
)

if TYPE_CHECKING:
    from .entries import Entry

RADIOS = 3  # up to so many choices all are seen at once


def _length(entry: Entry, value: Any) -> forms.Field:
    return length_field(entry.offer.units, value, label=entry.label)


def _angle(entry: Entry, value: Any) -> forms.Field:
    assert isinstance(entry.param, Angle)
    return angle_field(entry.offer.units, value, label=entry.label)


def _number(entry: Entry, value: Any) -> forms.Field:
    assert isinstance(entry.param, Number)
    return number_field(entry.offer.units, value, entry.param.unit, label=entry.label)


def _section(entry: Entry, value: Any) -> forms.Field:
    return section_field(entry.offer.units, value, label=entry.label)


def _choice(entry: Entry, value: Any) -> forms.Field:
    assert isinstance(entry.param, Choice)
    choices = with_unknown(list(entry.param.choices), value)
    return choice_field(entry.label, choices, value)


def _flag(entry: Entry, value: Any) -> forms.Field:
    return forms.BooleanField(required=False, initial=value is True, label=entry.label)


def _text(entry: Entry, value: Any) -> forms.Field:
    shown = value if isinstance(value, str) else ""
    return forms.CharField(required=False, initial=shown, label=entry.label, max_length=2000)


def _name(entry: Entry, value: Any) -> forms.Field:
    field = _text(entry, value)
    field.widget.attrs.update(quiet())
    return field


def _typed_text(entry: Entry, value: Any) -> forms.Field:
    field = _text(entry, value)
    field.widget.attrs["data-typed"] = ""
    return field


def _names(entry: Entry, value: Any) -> forms.Field:
    return names_field(value, label=entry.label)


def _angles(entry: Entry, value: Any) -> forms.Field:
    return angles_field(value, label=entry.label)


def _numbers(entry: Entry, value: Any) -> forms.Field:
    return numbers_field(value, label=entry.label)


def _branch(entry: Entry, value: Any) -> forms.Field:
    places = with_unknown(entry.offer.places(), value)
    return OpenChoiceField(entry.label, [("", "Choose a branch"), *places], value)


def _part(entry: Entry, value: Any) -> forms.Field:
    parts = with_unknown(list(entry.offer.parts), value)
    return OpenChoiceField(entry.label, [("", "Choose a part"), *parts], value)


FIELDS: dict[str, Callable[[Entry, Any], forms.Field]] = {
    "length": _length,
    "angle": _angle,
    "number": _number,
    "section": _section,
    "choice": _choice,
    "flag": _flag,
    "text": _typed_text,
    "name": _name,
    "names": _names,
    "angles": _angles,
    "numbers": _numbers,
    "branch": _branch,
    "part": _part,
}


class OpenChoiceField(forms.ChoiceField):
    """A menu of what is there now, that takes other names too: the replay says what is wrong with them."""

    def __init__(self, label: str, choices: list[tuple[str, str]], value: Any) -> None:
        super().__init__(choices=choices, required=False, initial=value, label=label)

    def valid_value(self, value: Any) -> bool:
        """Take any name."""
        return True


def choice_field(label: str, choices: list[tuple[str, str]], value: Any) -> forms.ChoiceField:
    """Return a choice: radio buttons for a few, a menu for more."""
    few = len(choices) <= RADIOS and all(key for key, _ in choices)
    widget = forms.RadioSelect() if few else forms.Select()
    return forms.ChoiceField(choices=choices, required=False, initial=value, label=label, widget=widget)


def with_unknown(choices: list[tuple[str, str]], value: Any) -> list[tuple[str, str]]:
    """Return the choices with the stored value among them, marked, where it is none of them."""
    if isinstance(value, str) and value and value not in {key for key, _ in choices}:
        return [*choices, (value, f"{value} (not there at this step)")]
    return choices
