"""The form of a shop that is kept: all of its profile, its prices and places, and the bars that lie in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from django import forms

from calculators.number_texts import decimal
from calculators.units import factor
from calculators.wording import UnitSystem
from procedures.models.shop import NAME_LIMIT
from procedures.planning.figures import FIGURES
from procedures.planning.profile import ShopProfile, default

from .cutting import LengthsField
from .shop_profile import ShopForm
from .typed import TypedField, length_text, number_field, section_field

MOST_BARS = 60
EMPTY_ROWS = 3
DEAREST = 100_000.0
PLACES = (
    ("forges", "Fires", 60),
    ("irons", "Irons in each fire", 12),
    ("anvils", "Anvils", 60),
    ("vices", "Vices", 60),
)
USUAL_PLACES: Mapping[str, int] = {"forges": 1, "irons": 2, "anvils": 1, "vices": 1}
_COSTS = ("hourly_cost", "fuel_cost")
_WORDS = {"fuel": "What the fire burns", "currency": "Money is reckoned in"}


class _HeldLengths(LengthsField):
    """Lengths as they are kept; left as they are shown, they stay exactly so."""

    def __init__(self, units: UnitSystem, stored: Sequence[float], shown: str, label: str) -> None:
        super().__init__(units, label=label, required=False, initial=shown)
        self.stored, self.shown = tuple(stored), shown

    def to_python(self, value: Any) -> Any:
        return self.stored if str(value or "").strip() == self.shown else super().to_python(value)


class OwnShopForm(ShopForm):
    """A whole shop. `profile`, `bars` and `places` are what was filled in."""

    def __init__(
        self,
        units: UnitSystem,
        shop: ShopProfile,
        bars: Sequence[Mapping[str, Any]] = (),
        places: Mapping[str, int] | None = None,
        data: Any = None,
    ) -> None:
        super().__init__(units, shop, data)
        self.units = units
        self.fields["name"] = forms.CharField(
            label="What you call it",
            max_length=NAME_LIMIT,
            initial="" if shop.name == default().name else shop.name,
            error_messages={"required": "Give the shop a name."},
        )
        self.fields["striker"] = forms.BooleanField(
            label="There is a striker with a sledge", required=False, initial=shop.striker
        )
        for name in _COSTS:
            self.fields[name] = self._cost(name, getattr(shop, name))
        for name, label in _WORDS.items():
            self.fields[name] = forms.CharField(
                label=label, max_length=NAME_LIMIT, required=False, initial=getattr(shop, name)
            )
        self.fields["currency"].help_text = "as you write it, such as £ or EUR"
        for name, label, most in PLACES:
            usual = USUAL_PLACES[name] if places is None else places[name]
            self.fields[name] = forms.IntegerField(label=label, min_value=0, max_value=most, initial=usual)
        self.rows = self._count_rows(bars)
        for index in range(self.rows):
            self._add_bar(index, bars[index] if index < len(bars) else {})

    def _cost(self, name: str, stored: float) -> TypedField:
        figure = FIGURES[name]
        field = number_field(self.units, stored, label=figure.label, required=True)
        field.help_text = "Your own reckoning; 0 where it costs nothing."
        return field

    def _count_rows(self, bars: Sequence[Mapping[str, Any]]) -> int:
        posted = [name for name in self.data if name.startswith("bar-section-")] if self.is_bound else []
        return min(max(len(bars) + EMPTY_ROWS, len(posted)), MOST_BARS)

    def _add_bar(self, index: int, bar: Mapping[str, Any]) -> None:
        units, price = self.units, bar.get("price")
        self.fields[f"bar-section-{index}"] = section_field(
            units, bar.get("section"), label=f"Bar {index + 1}, size"
        )
        shown = "; ".join(self._length(one) for one in bar.get("lengths", ()))
        lengths = _HeldLengths(units, bar.get("lengths", ()), shown, f"Bar {index + 1}, lengths")
        self.fields[f"bar-lengths-{index}"] = lengths
        a_mass = _per(units)
        in_units = None if price is None else price * a_mass
        field = number_field(units, in_units, label=f"Bar {index + 1}, price")
        field.stored_price = price  # type: ignore[attr-defined]
        self.fields[f"bar-price-{index}"] = field

    def _length(self, mm: float) -> str:
        text = length_text(self.units, mm)
        return text if self.units.length_unit == "mm" else f"{text} in" if "ft" not in text else text

    # -- what was typed --------------------------------------------------------------------------

    def _has_striker(self, found: dict[str, Any]) -> bool:
        return bool(found.get("striker")) or super()._has_striker(found)

    def clean_name(self) -> str:
        """Want a name that can be read."""
        name = " ".join(self.cleaned_data["name"].split())
        if not any(one.isalnum() for one in name):
            raise forms.ValidationError("A name has letters in it.")
        return name

    def clean(self) -> dict[str, Any]:
        """Put the shop and its bars together; what cannot be is said at its field."""
        self.bars = list(self._bars())
        return super().clean()

    @property
    def places(self) -> dict[str, int]:
        """How many there are of each place."""
        return {name: self.cleaned_data[name] for name, _, _ in PLACES}

    def _bars(self) -> Iterator[dict[str, Any]]:
        for index in range(self.rows):
            section, lengths, price = (
                self.cleaned_data.get(f"bar-{one}-{index}") for one in ("section", "lengths", "price")
            )
            wrong = any(f"bar-{one}-{index}" in self.errors for one in ("section", "lengths", "price"))
            if wrong:
                continue
            if section is None:
                if lengths or price is not None:
                    self.add_error(f"bar-section-{index}", "Say of which bar, such as 12 sq or 20 x 5.")
                continue
            if price is not None and not 0 <= price <= DEAREST:
                self.add_error(
                    f"bar-price-{index}", f"A price is from 0 to {decimal(DEAREST, 0)}, not {price:g}."
                )
                continue
            if any(not 1 <= one <= 100_000 for one in lengths or ()):
                self.add_error(f"bar-lengths-{index}", "A bar is from 1 mm to 100 m long.")
                continue
            yield {"section": section, "lengths": list(lengths or ()), "price": self._price(index, price)}

    def _price(self, index: int, price: float | None) -> float | None:
        """Return the price of a kilogram; one that was left as it was shown is the stored one."""
        field = self.fields[f"bar-price-{index}"]
        if price is not None and price == getattr(field, "stored", None):
            return field.stored_price  # type: ignore[attr-defined]
        return None if price is None else price / _per(self.units)

    # -- how it is laid out ----------------------------------------------------------------------

    @property
    def costs(self) -> list[forms.BoundField]:
        """What things cost."""
        return self.row(("hourly_cost", "fuel_cost", "fuel", "currency"))

    @property
    def found_there(self) -> list[forms.BoundField]:
        """What a class finds there."""
        return self.row(tuple(name for name, _, _ in PLACES))

    @property
    def racks(self) -> list[tuple[forms.BoundField, ...]]:
        """The bars, a row each: size, lengths, price."""
        return [
            tuple(self[f"bar-{one}-{index}"] for one in ("section", "lengths", "price"))
            for index in range(self.rows)
        ]

    @property
    def a_mass(self) -> str:
        """What a price is for."""
        return "pound" if self.units.length_unit == "in" else "kilogram"


def _per(units: UnitSystem) -> float:
    """Return the kilograms that a price is for as the reader tells it."""
    return factor("lb") if units.length_unit == "in" else 1.0


class CountForm(forms.Form):
    """What was counted at the steps of one piece: blows, and seconds of hammering."""

    def __init__(
        self,
        steps: Sequence[tuple[str, str, str]],
        counted: Sequence[Mapping[str, Any]] = (),
        data: Any = None,
    ) -> None:
        """Make a row for each (part, step, label) of `steps`."""
        super().__init__(data)
        self.steps = list(steps)
        kept = {(one["part"], one["step"]): one for one in counted}
        for index, (part, step, label) in enumerate(self.steps):
            was = kept.get((part, step), {})
            self.fields[f"blows-{index}"] = forms.IntegerField(
                label=f"Blows, {label}", min_value=1, max_value=100_000, required=False,
                initial=was.get("blows"),
            )  # fmt: skip
            self.fields[f"seconds-{index}"] = forms.FloatField(
                label=f"Seconds of hammering, {label}", min_value=0.1, max_value=100_000, required=False,
                initial=was.get("seconds"), widget=forms.NumberInput(attrs={"step": "any"}),
            )  # fmt: skip

    @property
    def counted(self) -> list[dict[str, Any]]:
        """What was counted, as it is kept."""
        found = []
        for index, (part, step, _) in enumerate(self.steps):
            given = {one: self.cleaned_data.get(f"{one}-{index}") for one in ("blows", "seconds")}
            if any(value is not None for value in given.values()):
                found.append({"part": part, "step": step, **given})
        return found

    @property
    def rows(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """The fields of each step."""
        return [(self[f"blows-{index}"], self[f"seconds-{index}"]) for index in range(len(self.steps))]
