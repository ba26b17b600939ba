"""The fields of a material of the author's own: shown for every bar, read where "own" is chosen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from calculators.materials import MAGNETIC_TO, MATERIALS, OWN, Material
from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.parameters.own_material import NOTE_LIMIT, TITLE_LIMIT, read_material

from .typed import number_field, quiet

CHOICES = [*((key, one.title) for key, one in MATERIALS.items()), (OWN, "Own material, as filled in below")]
# Where a fault of the stored form lies, and the field that it came from.
_FIELDS = {
    "title": "own_title",
    "density": "own_density",
    "carbon": "own_carbon",
    "forging": "own_forging_from",
    "forging/0": "own_forging_from",
    "forging/1": "own_forging_to",
    "welding": "own_welding_from",
    "welding/0": "own_welding_from",
    "welding/1": "own_welding_to",
    "burns_at": "own_burns_at",
    "magnetic_to": "own_magnetic_to",
    "note": "own_note",
}
_NEEDED = ("own_title", "own_density", "own_carbon", "own_forging_from", "own_forging_to", "own_burns_at")
_LINE = forms.TextInput


class MaterialMixin(forms.Form):
    """The choice of a material, and the figures of the author's own."""

    def add_material(self, units: UnitSystem, stored: str | Mapping[str, Any]) -> None:
        """Add the fields; those of the own material begin with the figures of the one chosen now."""
        steel = read_material(stored, ())
        self.units = units
        self.fields["material"] = forms.ChoiceField(label="Material", choices=CHOICES, initial=steel.id)
        self.fields["own_title"] = forms.CharField(
            label="Material’s name",
            max_length=TITLE_LIMIT,
            required=False,
            initial=steel.title if steel.is_own else "",
            help_text="Such as spring steel 55Si7.",
            widget=_LINE(attrs=quiet()),
        )
        for key, (label, value, unit, help_text) in _figures(steel).items():
            self.fields[key] = number_field(units, value, unit, label=label, help_text=help_text)
        self.fields["own_note"] = forms.CharField(
            label="Note on it",
            max_length=NOTE_LIMIT,
            required=False,
            initial=steel.note if steel.is_own else "",
            widget=_LINE(attrs=quiet()),
        )

    @property
    def bar_fields(self) -> list[forms.BoundField]:
        """The fields of every bar."""
        return [one for one in self if not one.name.startswith("own_")]

    @property
    def own_fields(self) -> list[forms.BoundField]:
        """The fields of an own material."""
        return [one for one in self if one.name.startswith("own_")]

    @property
    def is_own(self) -> bool:
        """Whether the own material is chosen."""
        return bool(self["material"].value() == OWN)

    def clean(self) -> dict[str, Any]:
        """Put the stored form of an own material in the place of the choice."""
        cleaned = super().clean() or {}
        if cleaned.get("material") != OWN:
            return cleaned
        missing = [key for key in _NEEDED if key not in self.errors and cleaned.get(key) in (None, "")]
        pair = [cleaned.get("own_welding_from"), cleaned.get("own_welding_to")]
        if pair.count(None) == 1:
            missing.append("own_welding_from" if pair[0] is None else "own_welding_to")
        for key in missing:
            self.add_error(key, "This is needed for a material of your own.")
        if not any(key in self.errors for key in self.fields if key.startswith("own_")):
            self._read(cleaned, None if pair[0] is None else pair)
        if any(key in self.errors for key in self.fields if key.startswith("own_")):
            self.add_error("material", "Fill in its figures under “Own material”.")
        return cleaned

    def _read(self, cleaned: dict[str, Any], welding: list[Any] | None) -> None:
        stored = {
            "title": cleaned["own_title"].strip(),
            "density": cleaned["own_density"],
            "carbon": cleaned["own_carbon"],
            "forging": [cleaned["own_forging_from"], cleaned["own_forging_to"]],
            "welding": welding,
            "burns_at": cleaned["own_burns_at"],
            **({} if cleaned["own_magnetic_to"] is None else {"magnetic_to": cleaned["own_magnetic_to"]}),
            **({"note": cleaned["own_note"]} if cleaned["own_note"] else {}),
        }
        try:
            read_material(stored, ())
        except DocumentError as fault:
            self.add_error(_FIELDS.get(fault.path, "material"), retold(fault.message, self.units))
        else:
            cleaned["material"] = stored


def _figures(steel: Material) -> dict[str, tuple[str, float | None, str, str]]:
    """Return the number fields: label, value now, unit and help, by name."""
    low, high = steel.welding or (None, None)
    return {
        "own_density": ("Density", steel.density, "kg/m³", "Steel is 7850."),
        "own_carbon": ("Carbon", steel.carbon, "%", "From 0.3 % it hardens in a quench."),
        "own_forging_from": ("Forged from", steel.forging[0], "°C", ""),
        "own_forging_to": ("Forged up to", steel.forging[1], "°C", ""),
        "own_welding_from": ("Welded from", low, "°C", "Both left empty where it does not weld in the fire."),
        "own_welding_to": ("Welded up to", high, "°C", ""),
        "own_burns_at": ("Burns at", steel.burns_at, "°C", ""),
        "own_magnetic_to": (
            "A magnet holds to",
            steel.magnetic_to if steel.is_own and steel.magnetic_to != MAGNETIC_TO else None,
            "°C",
            "Left empty where it is as in iron.",
        ),
    }
