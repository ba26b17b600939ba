"""The form of the cutting list: how many of what, the bar bought, the rack, and what the saw takes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from django import forms

from calculators import typed
from calculators.sections import Section
from calculators.typed import TypedError
from calculators.units import factor
from calculators.wording import UnitSystem
from procedures.engine.document import Part
from procedures.presenting.cutting import CuttingWish, groups_of
from procedures.presenting.shops import held_of
from procedures.presenting.shops import price_of as price_of_held

from .typed import length_field, price_field, price_of, quiet, section_field

MOST_PIECES = 2000
MOST_LENGTHS = 60  # in one list
_BETWEEN = re.compile(r";|\n|,\s|,$")  # not the comma of 8,5
_TIMES = re.compile(r"(?:(\d{1,3})\s*[x×]\s+)?(.+)", re.DOTALL)
USUAL = {"mm": "6 m", "in": "20 ft"}


class LengthsField(forms.CharField):
    """Several lengths, such as "6 m; 3 m" or "2 x 450, 620"; its value is a tuple in mm."""

    def __init__(self, units: UnitSystem, **kwargs: Any) -> None:
        self.units = units
        super().__init__(max_length=600, widget=forms.TextInput(attrs=quiet()), **kwargs)

    def to_python(self, value: Any) -> Any:
        """Return the lengths [mm]. Raises ValidationError."""
        text = super().to_python(value) or ""
        found: list[float] = []
        for one in _BETWEEN.split(text):
            if not one.strip():
                continue
            match = _TIMES.fullmatch(one.strip())
            count, length = match.groups() if match else (None, one)
            try:
                found += [typed.parse_length(length, self.units.length_unit)] * int(count or 1)
            except TypedError as error:
                raise forms.ValidationError(str(error)) from error
        if len(found) > MOST_LENGTHS:
            raise forms.ValidationError(
                f"At most {MOST_LENGTHS} lengths are reckoned with; here are {len(found)}."
            )
        return tuple(found)


class CuttingForm(forms.Form):
    """What is asked of a cutting list; `wish` is what was asked. It begins with the `bars` of a shop."""

    def __init__(
        self,
        units: UnitSystem,
        parts: Sequence[Part],
        data: Any = None,
        bars: Sequence[Mapping[str, Any]] = (),
    ) -> None:
        super().__init__(data)
        self.parts = tuple(parts)
        self.fields["sets"] = forms.IntegerField(
            label="Times over", help_text="as for a class", min_value=1, max_value=200, initial=1
        )
        for part in self.parts:
            self.fields[f"count-{part.key}"] = forms.IntegerField(
                label=part.name, min_value=0, max_value=MOST_PIECES, initial=part.quantity
            )
            self.fields[f"length-{part.key}"] = length_field(
                units, part.length, zero_ok=False, label=f"Length of {part.name}", required=True
            )
            self.fields[f"bar-{part.key}"] = section_field(
                units, part.section.to_json(), label=f"Bar of {part.name}", required=True
            )
        self.groups = groups_of(self._as_asked())
        self.fields["buy"] = LengthsField(
            units,
            label="Bar is bought in",
            help_text="lengths, such as 6 m; 3 m",
            initial=USUAL[units.length_unit],
            required=False,
        )
        self.fields["kerf"] = length_field(
            units, 2.0 if units.length_unit == "mm" else 25.4 / 16, label="The saw takes", required=True
        )
        self.fields["grip"] = length_field(
            units,
            0.0,
            label="Lost at the end of a bar",
            help_text="held in the vice, or squared",
            required=True,
        )
        self.fields["spare"] = length_field(
            units,
            0.0,
            label="Longer, each piece",
            help_text="for the tongs, or for what goes wrong",
            required=True,
        )
        self.fields["price"] = price_field(units)
        self.fields["price"].initial = self._price_held(units, bars)
        for index, group in enumerate(self.groups):
            self.fields[f"rack-{index}"] = LengthsField(
                units,
                label=f"Offcuts on the rack: {units.section(group.section)}, {group.material.title.lower()}",
                help_text="such as 450; 2 x 620",
                required=False,
                initial=_lying(units, held_of(group.section, bars)),
            )

    def _price_held(self, units: UnitSystem, bars: Sequence[Mapping[str, Any]]) -> str:
        """Return the price of these bars in a shop, where they all have one and the same."""
        found = {price_of_held(one.section, bars) for one in self.groups}
        price = found.pop() if len(found) == 1 else None
        if price is None:
            return ""
        return f"{price * (factor('lb') if units.length_unit == 'in' else 1.0):.6g}"

    def _as_asked(self) -> tuple[Part, ...]:
        """Return the parts on the bars that are asked for; on the plan's where that does not read."""
        found = []
        for part in self.parts:
            try:
                stored = self.fields[f"bar-{part.key}"].to_python(self.data.get(f"bar-{part.key}"))
            except forms.ValidationError:
                stored = None
            found.append(replace(part, section=Section.from_json(stored)) if stored else part)
        return tuple(found)

    @property
    def pieces(self) -> list[tuple[forms.BoundField, ...]]:
        """The fields of each part: how many, how long, and of which bar."""
        return [tuple(self[f"{name}-{one.key}"] for name in ("count", "length", "bar")) for one in self.parts]

    @property
    def racks(self) -> list[forms.BoundField]:
        """The fields of the rack."""
        return [self[name] for name in self.fields if name.startswith("rack-")]

    def clean_price(self) -> float | None:
        """Return the price, or None."""
        return price_of(self.cleaned_data.get("price"))

    def clean(self) -> dict[str, Any]:
        """Refuse more pieces than are reckoned with."""
        found = super().clean() or {}
        counts = (value or 0 for name, value in found.items() if name.startswith("count-"))
        pieces = sum(counts) * (found.get("sets") or 1)
        if pieces > MOST_PIECES:
            raise forms.ValidationError(f"At most {MOST_PIECES} pieces are reckoned with; here are {pieces}.")
        return found

    @property
    def wish(self) -> CuttingWish:
        """What is asked; the usual where nothing was."""
        given = self.cleaned_data
        return CuttingWish(
            groups=self.groups,
            counts={part.key: (given[f"count-{part.key}"] or 0) * given["sets"] for part in self.parts},
            lengths={part.key: given[f"length-{part.key}"] for part in self.parts},
            buy=given["buy"],
            racks=tuple(given[f"rack-{index}"] for index in range(len(self.groups))),
            kerf=given["kerf"],
            grip=given["grip"],
            spare=given["spare"],
            price=given["price"],
        )


def _lying(units: UnitSystem, bars: Sequence[Mapping[str, Any]]) -> str:
    """Return the lengths that lie in a shop, as they are typed."""
    inches = units.length_unit == "in"
    lengths = Counter(mm for one in bars for mm in one.get("lengths", ()))
    texts = ((f"{mm / factor('in'):.2f} in" if inches else f"{mm:g}", n) for mm, n in lengths.items())
    return "; ".join(f"{n} x {text}" if n > 1 else text for text, n in texts)
