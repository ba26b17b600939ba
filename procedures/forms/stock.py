"""The form of the stock page: what must come out, what is not known, and the bar there is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django import forms

from calculators import typed
from calculators.sections import Section
from calculators.typed import TypedError
from calculators.wording import UnitSystem
from procedures.engine.frames import PartReplay
from procedures.stock.target import Kind, Target, inside_diameter
from procedures.stock.unknown import Unknown, step_unknowns

from .typed import LONGEST, price_field, price_of, quiet, section_field

KEEP = {"lengths": "as the steps give them", "metal": "round the same metal"}
_OF_STEP = {"thickness": "Thickness", "width": "Width"}


class StockForm(forms.Form):
    """What is asked of a part; `targets`, `unknown`, `section` and `same_metal` are what was asked."""

    want = forms.ChoiceField(label="What must come out")
    size = forms.CharField(label="How large", max_length=LONGEST, widget=forms.TextInput(attrs=quiet()))
    also = forms.ChoiceField(label="And also", required=False)
    also_size = forms.CharField(
        label="How large is that",
        max_length=LONGEST,
        required=False,
        widget=forms.TextInput(attrs=quiet()),
    )
    find = forms.ChoiceField(label="What is not known")
    keep = forms.ChoiceField(
        label="Distances of the steps on another bar", choices=list(KEEP.items()), required=False
    )

    def __init__(self, units: UnitSystem, part: PartReplay, data: Any = None) -> None:
        super().__init__(data, initial={"find": "length", "keep": "lengths"})
        self.units = units
        self.replayed = part
        self.targets: list[Target] = []
        offered = list(wants(part))
        also = self.fields["also"]
        self.fields["want"].choices = offered  # type: ignore[attr-defined]
        also.choices = [("", "nothing else"), *offered]  # type: ignore[attr-defined]
        self.finds = dict(_finds(part))
        words = [(key, _capital(one.said(part.part).text(units))) for key, one in self.finds.items()]
        self.fields["find"].choices = words  # type: ignore[attr-defined]
        self.fields["size"].help_text = f"a size such as {'8 in' if units.length_unit == 'in' else '200 mm'}"
        self.fields["price"] = price_field(units)
        self.fields["bar"] = section_field(
            units,
            None,
            label="The bar you have",
            help_text="as measured, 19.6 x 49.5, or another, ø12; the plan's when left empty",
        )

    def clean_price(self) -> float | None:
        """Return the price, or None."""
        return price_of(self.cleaned_data.get("price"))

    @property
    def price(self) -> float | None:
        """What a kilogram of bar costs, or a pound to a reader of inches."""
        found: float | None = self.cleaned_data.get("price")
        return found

    def clean(self) -> dict[str, Any]:
        """Read the sizes by what they are sizes of."""
        found = super().clean() or {}
        for want, size in (("want", "size"), ("also", "also_size")):
            key, text = found.get(want), (found.get(size) or "").strip()
            if not key:
                continue
            if not text:
                if size in self.errors:
                    continue
                self.add_error(size, "Say how large it must come out.")
                continue
            try:
                self.targets.append(_target(key, text, self.units))
            except TypedError as error:
                self.add_error(size, str(error))
        if not self.errors and len(self.targets) == 2 and found["want"] == found["also"]:
            self.add_error("also", "This is asked for already.")
        return found

    @property
    def unknown(self) -> Unknown:
        """What to solve for."""
        return self.finds[self.cleaned_data["find"]]

    @property
    def section(self) -> Section | None:
        """The bar there is, where it is not the plan's."""
        stored: Mapping[str, Any] | None = self.cleaned_data.get("bar")
        return Section.from_json(stored) if stored else None

    @property
    def same_metal(self) -> bool:
        """Whether distances reach round the same metal on another bar."""
        return bool(self.cleaned_data.get("keep") == "metal")


def wants(part: PartReplay) -> Iterator[tuple[str, str]]:
    """Yield (key, words) of what can be asked for."""
    piece = part.final
    for branch in piece.branches:
        if branch.length:
            yield f"length:{branch.name}", f"Length of {branch.name}"
    for branch in piece.branches:
        if inside_diameter(branch) is not None:
            yield f"ring:{branch.name}", f"Inside diameter of {branch.name}"
    if len(piece.branches) > 1:
        yield "total:", "Length of all branches together"
    yield "mass:", "Mass of the piece"
    for frame in part.frames:
        if frame.status == "done" and frame.after.worked and frame.operation:
            for kind, words in _OF_STEP.items():
                yield f"{kind}:{frame.key}", f"{words} after step {frame.number}, {frame.title.lower()}"


def _finds(part: PartReplay) -> Iterator[tuple[str, Unknown]]:
    """Yield (key, unknown) of what can be solved for."""
    yield "length", Unknown("length")
    if part.part.section.shape == "flat":
        yield "width", Unknown("width")
        yield "thickness", Unknown("thickness")
    else:
        yield "size", Unknown("size")
    for step in part.part.steps:
        for one in step_unknowns(part.part, step.key):
            yield "/".join((step.key, *map(str, one.path))), one


def _target(key: str, text: str, units: UnitSystem) -> Target:
    """Return the target of a choice and a size as typed. Raises TypedError."""
    word, _, rest = key.partition(":")
    kind: Kind = word  # type: ignore[assignment]
    if kind == "mass":
        return Target("mass", typed.parse_mass(text, "oz" if units.length_unit == "in" else "kg"))
    value = typed.parse_length(text, units.length_unit)
    if kind in ("width", "thickness"):
        return Target(kind, value, step=rest)
    return Target(kind, value, branch=rest)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
