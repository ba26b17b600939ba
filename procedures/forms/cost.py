"""The form of a cost sheet: how many, what metal and time cost, finish and margin."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from calculators.units import factor
from calculators.wording import UnitSystem
from procedures.planning.costs import Prices
from procedures.planning.profile import ShopProfile
from procedures.presenting.cutting import Group
from procedures.presenting.shops import price_of

MOST_PIECES = 10_000
DEAREST = 1_000_000.0
LONGEST = 10_000.0  # minutes
PER = {"kg": "a kilogram", "lb": "a pound"}
_MONEY = (  # field, label, help
    ("hour", "An hour of work", "with rent and tools in it"),
    ("fire_hour", "An hour of fire", "fuel, gas or current"),
    ("finish", "Finish, each piece", "wax, oil, paint, galvanising"),
    ("other", "Other, the batch", "transport, hire, packing"),
)
_TIMES = (
    ("cold", "A cold step", "minutes: marking out, filing, drilling", 3.0),
    ("each", "Else, each piece", "minutes: finishing, fitting, packing", 0.0),
    ("setting_up", "Setting up", "minutes for the batch: the fire, tools, drawings", 0.0),
)


class CostForm(forms.Form):
    """What is asked of a cost sheet; `prices` is what was put in. Nothing in it is named as in a shop."""

    def __init__(
        self,
        units: UnitSystem,
        groups: Sequence[Group],
        shop: ShopProfile,
        bars: Sequence[Mapping[str, Any]] = (),
        data: Any = None,
    ) -> None:
        super().__init__(data)
        self.groups = tuple(groups)
        per = "lb" if units.length_unit == "in" else "kg"
        self.fields["pieces"] = forms.IntegerField(
            label="Pieces", min_value=1, max_value=MOST_PIECES, initial=1
        )
        for index, group in enumerate(self.groups):
            a_kilogram = price_of(group.section, bars) or 0.0
            self.fields[f"metal-{index}"] = _number(
                f"{units.section(group.section)}, {group.material.title.lower()}",
                "what such bar costs",
                DEAREST,
                f"{a_kilogram * (factor('lb') if per == 'lb' else 1.0):.6g}",
            )
        self.fields["per"] = forms.ChoiceField(
            label="These are prices of", help_text="by weight", choices=list(PER.items()), initial=per
        )
        self.fields["waste"] = _number("Waste", "per cent bought beyond what is in the pieces", 500, "10")
        usual = {"hour": shop.hourly_cost, "fire_hour": shop.fuel_cost}
        for name, label, told in _MONEY:
            self.fields[name] = _number(label, told, DEAREST, f"{usual.get(name, 0.0):g}")
        for name, label, told, minutes in _TIMES:
            self.fields[name] = _number(label, told, LONGEST, f"{minutes:g}")
        self.fields["margin"] = _number("Margin", "per cent on all of it", 1000, "0")
        self.fields["money"] = forms.CharField(
            label="Money", help_text="as you write it", max_length=20, required=False, initial=shop.currency
        )
        self.fields["for_whom"] = forms.CharField(label="For", max_length=120, required=False)

    def clean_money(self) -> str:
        """Return it without room around it."""
        return " ".join(self.cleaned_data["money"].split())

    def clean_for_whom(self) -> str:
        """Return it on one line."""
        return " ".join(self.cleaned_data["for_whom"].split())

    @property
    def prices(self) -> Prices:
        """What was put in, metal by the kilogram."""
        given = self.cleaned_data
        a_mass = factor("lb") if given["per"] == "lb" else 1.0
        metal = {
            part.key: given[f"metal-{index}"] / a_mass
            for index, group in enumerate(self.groups)
            for part in group.parts
        }
        plain = {name: given[name] for name in ("hour", "fire_hour", "finish", "other")}
        times = {name: given[name] for name, _, _, _ in _TIMES}
        return Prices(
            pieces=given["pieces"],
            metal=metal,
            waste=given["waste"] / 100,
            margin=given["margin"] / 100,
            **plain,
            **times,
        )

    @property
    def metals(self) -> list[forms.BoundField]:
        """The price of each bar, and of how much."""
        return [*(self[f"metal-{index}"] for index in range(len(self.groups))), self["per"], self["waste"]]

    @property
    def work(self) -> list[forms.BoundField]:
        """What time and fire cost, and how long what is not hot takes."""
        return [self[name] for name in ("hour", "fire_hour", "cold", "each", "setting_up")]

    @property
    def rest(self) -> list[forms.BoundField]:
        """Finish, what else, and the margin."""
        return [self[name] for name in ("finish", "other", "margin", "money")]


def _number(label: str, told: str, most: float, usual: str) -> forms.FloatField:
    return forms.FloatField(
        label=label,
        help_text=told,
        min_value=0,
        max_value=most,
        initial=usual,
        widget=forms.NumberInput(attrs={"step": "any"}),
    )
