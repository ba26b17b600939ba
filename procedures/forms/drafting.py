"""The form of a part described from a drawing: made from what its features declare, all in the address."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from django import forms

from calculators.retelling import retold
from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.drafting.catalogue import all_features, by_kind
from procedures.drafting.description import MOST_FEATURES, Description
from procedures.drafting.feature import KINDS, Feature
from procedures.drafting.refusing import Undraftable
from procedures.engine.parameters.params import ParamError
from procedures.engine.scale import ScaleHabit

from .entries import Entry, Offer
from .procedure import FIRE_CHOICES
from .typed import LONGEST, TypedField, length_field, section_field

UNNAMED = "From a drawing"
MOST_PIECES = 500
MOST_KERF = 50.0  # mm
OWN = ("title", "quantity", "bar", "kerf", "fire")
EXAMPLE = {
    "metric": {"title": "Hook for a beam", "bar": "12 sq"},
    "inch": {"title": "Hook for a beam", "bar": "1/2 sq"},
}
_EXAMPLE_RUN: tuple[tuple[str, dict[str, tuple[str, str]]], ...] = (
    ("flat", {"width": ("20", "3/4"), "thickness": ("5", "3/16"), "length": ("50", "2")}),
    ("hole", {"distance": ("20", "3/4"), "size": ("6", "1/4")}),
    ("stem", {"length": ("90", "3 1/2")}),
    ("hook", {"inside_diameter": ("40", "1 1/2"), "tip": ("5 sq", "3/16 sq")}),
)


@dataclass
class FeatureRow:
    """One feature in the form: its fields, and what is wrong with it as a whole."""

    number: int
    kind: type[Feature]
    entries: tuple[Entry, ...]
    faults: list[str] = field(default_factory=list)

    @property
    def title(self) -> str:
        """The title of the feature. (A template would call `kind` itself.)"""
        return self.kind.title

    @property
    def id(self) -> str:
        """The id of the feature's kind."""
        return self.kind.id

    @property
    def help(self) -> str:
        """What is to be known of it."""
        return retold(self.kind.help, self.entries[0].offer.units) if self.entries else self.kind.help


class DrawingForm(forms.Form):
    """A part from a drawing; once valid, `description` is what was described."""

    title = forms.CharField(label="What it is", max_length=120, required=False)
    quantity = forms.IntegerField(label="How many", min_value=1, max_value=MOST_PIECES)

    def __init__(self, units: UnitSystem, data: Mapping[str, str]) -> None:
        self.units = units
        self.rows = list(_rows(units, data))
        made = {**self.base_fields, **_own_fields(units)}
        for row in self.rows:
            for entry in row.entries:
                entry.form = self
                made |= _plain(entry.fields(data))
        usual = {"title": UNNAMED, "quantity": 1, "fire": FIRE_CHOICES[0][0]}
        given = {name: data.get(name, _text(usual.get(name, one.initial))) for name, one in made.items()}
        super().__init__(given)
        self.fields = {name: made[name] for name in (*OWN, *(one for one in made if one not in OWN))}

    # -- what was described ----------------------------------------------------------------------

    def clean(self) -> dict[str, Any]:
        """Read each feature; what is wrong goes beside its field."""
        cleaned = super().clean() or {}
        if (cleaned.get("kerf") or 0.0) > MOST_KERF:
            self.add_error("kerf", f"A cut takes at most {self.units.length(MOST_KERF)}.")
        self.features = [self._feature(row, cleaned) for row in self.rows]
        if not self.rows:
            self.add_error(None, "Describe the part: add a stem, or another run of bar.")
        return cleaned

    def _feature(self, row: FeatureRow, cleaned: Mapping[str, Any]) -> Feature | None:
        params: dict[str, Any] = {}
        for entry in row.entries:
            if entry.prefix in self.errors:
                return None
            try:
                params[entry.name] = entry.read(cleaned)
            except ParamError as error:
                self.add_error(entry.prefix, retold(error.message, self.units))
                return None
        try:
            return row.kind.read(params)
        except ParamError as error:
            name = str(error.path[0]) if error.path else ""
            self.refuse(row.number, name, retold(error.message, self.units))
            return None

    def refuse(self, number: int | None, name: str, words: str) -> None:
        """Put what is wrong beside the field of a feature, or with the feature or the whole."""
        if number is None:
            self.add_error("bar" if name == "bar" else None, words)
            return
        row = self.rows[number]
        entry = next((one for one in row.entries if one.name == name), None)
        if entry is not None:
            self.add_error(entry.prefix, words)
        else:
            row.faults.append(words)

    def refuse_all(self, fault: Undraftable) -> None:
        """Put every reason of a refused description in its place."""
        for one in fault.refusals:
            self.refuse(one.number, one.field, one.message.text(self.units))

    @property
    def description(self) -> Description:
        """What was described."""
        given = self.cleaned_data
        stored = given.get("bar")
        return Description(
            tuple(one for one in self.features if one is not None),
            bar=Section.from_json(stored) if stored else None,
            title=given["title"] or UNNAMED,
            quantity=given["quantity"],
            kerf=given["kerf"] or 0.0,
            scale=ScaleHabit(fire=given["fire"]),
        )

    @property
    def has_faults(self) -> bool:
        """Whether anything is wrong."""
        return bool(self.errors) or any(row.faults for row in self.rows)

    @property
    def own_fields(self) -> list[forms.BoundField]:
        """The fields about the whole."""
        return [self[name] for name in OWN]

    @property
    def asked(self) -> list[tuple[str, str]]:
        """Everything that was typed, as it stands in the address."""
        given = [(name, self.data[name]) for name in OWN]
        for row in self.rows:
            given.append((f"f{row.number}", row.id))
            given += [(entry.prefix, self.data[entry.prefix]) for entry in row.entries]
        return [("units", self.units.id), *((name, text) for name, text in given if text)]


def _text(value: Any) -> str:
    return "" if value is None else str(value)


def _own_fields(units: UnitSystem) -> dict[str, forms.Field]:
    """Return the fields about the whole that hang on the reader's units."""
    bar = "Such as 12 sq or ø16; the thickest stem's when left out."
    return {
        "bar": section_field(units, None, label="The bar", help_text=bar),
        "kerf": length_field(
            units,
            0.0,
            label="The saw takes",
            help_text="Where you cut it off a longer bar at the first step; 0 where it comes cut to"
            " length, as a cutting list has it.",
        ),
        "fire": forms.ChoiceField(label="Fire", choices=FIRE_CHOICES),
    }


def _plain(fields: dict[str, forms.Field]) -> dict[str, forms.Field]:
    """Return the fields with menus for choices: rows of radio buttons would hide the run."""
    for one in fields.values():
        if isinstance(one, forms.ChoiceField):
            one.widget = forms.Select(choices=list(one.choices))  # type: ignore[arg-type]
        elif isinstance(one, TypedField):
            one.widget.attrs["maxlength"] = str(LONGEST)
    return fields


def _rows(units: UnitSystem, data: Mapping[str, str]) -> Iterator[FeatureRow]:
    for number, kind in enumerate(_kinds(data)):
        entries = tuple(
            Entry(
                name,
                param,
                Offer(units),
                None,
                default=kind.default(name),
                prefix=f"f{number}-{name}",
            )
            for name, param in kind.params().items()
        )
        yield FeatureRow(number, kind, entries)


def _kinds(data: Mapping[str, str]) -> Iterator[type[Feature]]:
    """Yield the kinds of the features in the address, as far as they are known."""
    for number in range(MOST_FEATURES):
        kind = all_features().get(data.get(f"f{number}", ""))
        if kind is None:
            return
        yield kind


# -- adding, taking away, moving ---------------------------------------------------------------------


def example(units: UnitSystem) -> dict[str, str]:
    """Return what the page opens with."""
    found = dict(EXAMPLE[units.id])
    for number, (kind, params) in enumerate(_EXAMPLE_RUN):
        found[f"f{number}"] = kind
        for name, texts in params.items():
            found[f"f{number}-{name}"] = texts[units.id == "inch"]
    return found


def changed(data: Mapping[str, str], do: str) -> tuple[dict[str, str], int]:
    """Return what was typed after a button was pressed, and the number of the row to look at.

    Buttons say "up:2", "down:2", "remove:2", or "add" with the kind in `what`.
    """
    runs = [(kind.id, _typed_in(data, number)) for number, kind in enumerate(_kinds(data))]
    word, _, at = do.partition(":")
    place = int(at) if at.isascii() and at.isdigit() and len(at) < 4 else len(runs)
    if word == "add" and len(runs) < MOST_FEATURES:
        what = data.get("what", "")
        if what in all_features():
            runs.append((what, {}))
            place = len(runs) - 1
    elif word == "remove" and place < len(runs):
        del runs[place]
        place = max(place - 1, 0)
    elif word in ("up", "down") and place < len(runs):
        other = min(max(place + (1 if word == "down" else -1), 0), len(runs) - 1)
        runs[place], runs[other] = runs[other], runs[place]
        place = other
    own = {name: text for name, text in data.items() if name in OWN or name == "units"}
    return {**own, **dict(_written(runs))}, place


def _typed_in(data: Mapping[str, str], number: int) -> dict[str, str]:
    begin = f"f{number}-"
    return {name.removeprefix(begin): text for name, text in data.items() if name.startswith(begin)}


def _written(runs: Iterable[tuple[str, Mapping[str, str]]]) -> Iterator[tuple[str, str]]:
    for number, (kind, params) in enumerate(runs):
        yield f"f{number}", kind
        yield from ((f"f{number}-{name}", text) for name, text in params.items())


def offered() -> list[tuple[str, list[tuple[str, str]]]]:
    """Return the features to be added, by their kinds."""
    return [(KINDS[key], [(one.id, one.title) for one in them]) for key, them in by_kind().items()]
