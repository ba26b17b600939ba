"""The form of a shop: its fire, hammers and habits, typed in the reader's units, with what each rests on."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from django import forms

from calculators.number_texts import SPACE, decimal
from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.planning.figures import FIGURES, FIRE_CHOICES, HAMMERS, SKILLS, Figure
from procedures.planning.profile import ProfileError, ShopProfile

from .typed import TypedField, length_field, number_field

FIRST = ("start", "stop", "hot_length")
STRIKING = ("hand_energy", "hand_rate", "sledge_energy", "sledge_rate", "power_energy", "power_rate")
FIRE = ("fire_heat", "slower", "transfer", "contact", "useful")
_NUMBERS = (*FIRST, *STRIKING, *FIRE)
_MAY_BE_EMPTY = {"hot_length", "hand_energy", "useful", "power_energy"}


class ShopForm(forms.Form):
    """A shop to plan in; `profile` is what was filled in. Prices are kept elsewhere and stay as they are."""

    skill = forms.ChoiceField(
        label="Who works", choices=[(key, one.capitalize()) for key, one in SKILLS.items()]
    )
    hammer = forms.ChoiceField(
        label="Struck with",
        choices=[(key, one.capitalize()) for key, one in HAMMERS.items()],
        help_text="Where a step is not for a striker or a power hammer, the hand hammer is reckoned.",
    )
    fire = forms.ChoiceField(label="Fire", choices=list(FIRE_CHOICES.items()))

    def __init__(self, units: UnitSystem, shop: ShopProfile, data: Any = None) -> None:
        super().__init__(data, initial={"skill": shop.skill, "hammer": shop.hammer, "fire": shop.fire})
        self.shop = shop
        self.profile: ShopProfile | None = None
        for name in _NUMBERS:
            self.fields[name] = field = _number(units, name, getattr(shop, name))
            if name in _MAY_BE_EMPTY:
                field.widget.attrs["placeholder"] = _usual(units, shop, name)

    def clean(self) -> dict[str, Any]:
        """Put the shop together; what cannot be is said at its field."""
        found = super().clean() or {}
        if self.errors:
            return found
        given = {one.name: found[one.name] for one in fields(ShopProfile) if found.get(one.name) is not None}
        emptied = {name: None for name in _MAY_BE_EMPTY if found.get(name) is None}
        try:
            self.profile = replace(self.shop, **{**given, **emptied, "striker": self._has_striker(found)})
        except ProfileError as error:
            self.add_error(error.field if error.field in self.fields else None, error.message)
        return found

    def _has_striker(self, found: dict[str, Any]) -> bool:
        return bool(found["hammer"] == "striker")

    def row(self, names: tuple[str, ...]) -> list[forms.BoundField]:
        """Return some fields in order."""
        return [self[name] for name in names]

    @property
    def striking(self) -> list[forms.BoundField]:
        """What the hammers are."""
        return self.row(STRIKING)

    @property
    def burning(self) -> list[forms.BoundField]:
        """What fire and anvil are."""
        return self.row(FIRE)

    @property
    def is_opened(self) -> bool:
        """Whether something in the folded part is wrong and must be seen."""
        return any(name in self.errors for name in (*STRIKING, *FIRE))


def _number(units: UnitSystem, name: str, stored: float | None) -> TypedField:
    figure = FIGURES[name]
    more: dict[str, Any] = {
        "label": figure.label,
        "required": name not in _MAY_BE_EMPTY,
        "help_text": retold(_told(figure), units),
    }
    if figure.unit == "mm":
        return length_field(units, stored, **more)
    field = number_field(units, stored, figure.unit, **more)
    field.widget.attrs["inputmode"] = "decimal"
    return field


def _usual(units: UnitSystem, shop: ShopProfile, name: str) -> str:
    """Return what is reckoned where a field is left empty, to show in it."""
    if name == "hot_length":
        return units.length(shop.reach).split(SPACE)[0]
    usual = {"hand_energy": shop.blow, "useful": shop.shaping}.get(name)
    return decimal(usual, 2) if usual is not None else "none"


def _told(figure: Figure) -> str:
    basis = f"Basis: {figure.basis}."
    return f"{figure.help} {basis}" if figure.help else basis
