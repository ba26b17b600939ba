"""Entries for parameters that say where: ranges, points, and lists of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from django import forms
from django.forms.boundfield import BoundField

from procedures.engine.parameters.params import LIST_LIMIT, Param
from procedures.engine.parameters.place_params import PlaceParam

from .entries import Entry, Offer, words_of
from .kinds import OpenChoiceField, with_unknown
from .typed import length_field, quiet

RANGE_DATUMS = {
    "whole": "all of it",
    "end": "from the end",
    "start": "from the start",
    "centre": "about the middle",
    "mark": "from a mark",
    "between": "between two marks",
}
POINT_DATUMS = {
    "end": "from the end",
    "start": "from the start",
    "centre": "from the middle",
    "mark": "from a mark",
}
TOWARD = {"end": "toward the end", "start": "toward the start", "both": "half on each side"}

# What each datum takes; the rest of a place says nothing then, and is not kept.
RANGE_TAKES = {
    "whole": (),
    "end": ("offset", "length"),
    "start": ("offset", "length"),
    "centre": ("length",),
    "mark": ("mark", "offset", "length", "toward"),
    "between": ("mark", "mark_to"),
}
POINT_TAKES = {
    "end": ("offset",),
    "start": ("offset",),
    "centre": ("offset", "toward"),
    "mark": ("mark", "offset", "toward"),
}


class PlaceFields:
    """The fields of one place, a range or a point, under a prefix."""

    def __init__(self, prefix: str, offer: Offer, stored: Any, *, is_range: bool, datums: Any = None) -> None:
        self.prefix = prefix
        self.offer = offer
        self.stored = stored if isinstance(stored, Mapping) else {}
        self.takes = RANGE_TAKES if is_range else POINT_TAKES
        known = RANGE_DATUMS if is_range else POINT_DATUMS
        self.datums = {key: label for key, label in known.items() if datums is None or key in datums}
        self.is_range = is_range

    @property
    def parts(self) -> list[str]:
        """The names of what a place holds."""
        more = ["length", "mark", "mark_to", "toward"] if self.is_range else ["mark", "toward"]
        return ["on", "datum", "offset", *more]

    def fields(self) -> dict[str, forms.Field]:
        """Return the fields by name."""
        return {f"{self.prefix}-{part}": self._field(part) for part in self.parts}

    def _field(self, part: str) -> forms.Field:
        stored = self.stored.get(part)
        units = self.offer.units
        if part == "on":
            places = with_unknown(self.offer.places(), stored)
            first = places[0][0] if places else ""
            return OpenChoiceField("On", places, stored or first)
        if part == "datum":
            return _menu("Measured", list(self.datums.items()), stored or self.first_datum)
        if part in ("mark", "mark_to"):
            marks = with_unknown([(one, one) for one in self.offer.marks()], stored)
            label = "Mark" if part == "mark" else "To mark"
            return OpenChoiceField(label, [("", "Choose a mark"), *marks], stored)
        if part == "toward":
            known = TOWARD if self.is_range else {key: TOWARD[key] for key in ("end", "start")}
            return _menu("Toward", list(known.items()), stored or "end")
        if part == "offset":
            return length_field(units, stored, label="Begins at" if self.is_range else "Distance")
        return length_field(units, stored, label="Length")

    @property
    def first_datum(self) -> str:
        """The datum proposed for a new place."""
        return "end" if "end" in self.datums else next(iter(self.datums))

    def value(self, cleaned: Mapping[str, Any]) -> dict[str, Any]:
        """Return the stored form of the place, with what its datum takes and nothing else."""
        given = {part: cleaned.get(f"{self.prefix}-{part}") for part in self.parts}
        takes = ("on", "datum", *self.takes.get(given["datum"] or "", ()))
        return {part: given[part] for part in takes if given[part] not in (None, "")}

    def says(self, part: str) -> bool:
        """Whether the stored place says anything by this part of it."""
        datum = self.stored.get("datum", self.first_datum)
        return part in ("on", "datum", *self.takes.get(datum, ()))

    def ignored(self, posted: Mapping[str, Any]) -> list[str]:
        """Return the fields whose text says nothing with the datum that was posted."""
        takes = self.takes.get(str(posted.get(f"{self.prefix}-datum", "")), ())
        return [f"{self.prefix}-{part}" for part in self.parts[2:] if part not in takes]


def _menu(label: str, choices: list[tuple[str, str]], value: Any) -> forms.ChoiceField:
    return forms.ChoiceField(choices=choices, required=False, initial=value, label=label)


class PlaceEntry(Entry):
    """A range or a point."""

    template = "procedures/author/_place.html"

    def __init__(self, name: str, param: Param, offer: Offer, stored: Any, **more: Any) -> None:
        super().__init__(name, param, offer, stored, **more)
        is_range = param.kind == "place"
        datums = param.datums if isinstance(param, PlaceParam) else None
        self.place = PlaceFields(self.prefix, offer, stored, is_range=is_range, datums=datums)

    @property
    def asks_first(self) -> bool:
        """Whether it begins with the question if it is given at all."""
        return self.is_optional

    @property
    def switch(self) -> str:
        """The name of the field that says whether it is given at all."""
        return f"{self.prefix}-given"

    def fields(self, data: Mapping[str, Any] | None) -> dict[str, forms.Field]:
        own = self.place.fields()
        if not self.asks_first:
            return own
        given = forms.BooleanField(required=False, initial=self.stored is not None, label=self.label)
        return {self.switch: given, **own}

    def value(self, cleaned: Mapping[str, Any]) -> Any:
        if self.asks_first and not cleaned.get(self.switch):
            return None
        return self.place.value(cleaned)

    def ignored(self, posted: Mapping[str, Any]) -> list[str]:
        """Return the fields whose text says nothing, so that no fault is found in them."""
        if self.asks_first and not posted.get(self.switch):
            return list(self.place.fields())
        return self.place.ignored(posted)

    @property
    def place_fields(self) -> list[tuple[str, BoundField]]:
        """Its fields in the form, each with what it says of the place."""
        assert self.form is not None
        return [(part, self.form[f"{self.prefix}-{part}"]) for part in self.place.parts]

    @property
    def words(self) -> str:
        if self.stored is None:
            return ""
        return words_of([field for part, field in self.place_fields if self.place.says(part)])

    def field_at(self, path: tuple[str | int, ...]) -> str:
        part = str(path[0]) if path and path[0] in self.place.parts else "on"
        return f"{self.prefix}-{part}"

    @property
    def names(self) -> list[str]:
        first = [self.switch] if self.asks_first else []
        return first + [f"{self.prefix}-{part}" for part in self.place.parts]


class RowsEntry(Entry):
    """Several points, or several marks to be put: a row each."""

    template = "procedures/author/_rows.html"
    key: ClassVar[str] = "count"

    @property
    def count_name(self) -> str:
        """The name of the hidden field that counts the rows."""
        return f"{self.prefix}-count"

    @property
    def has_names(self) -> bool:
        """Whether each row has a name."""
        return self.param.kind == "marks"

    def _rows(self, count: int) -> list[PlaceFields]:
        stored = self.stored if isinstance(self.stored, list | tuple) else []
        held = [*stored[:count], *([None] * (count - len(stored)))]
        return [
            PlaceFields(f"{self.prefix}-{index}", self.offer, one, is_range=False)
            for index, one in enumerate(held)
        ]

    def count(self, data: Mapping[str, Any] | None) -> int:
        """Return how many rows there are: as posted, else as stored, one at least."""
        stored = len(self.stored) if isinstance(self.stored, list | tuple) else 0
        posted = str(data.get(self.count_name, "")) if data else ""
        count = int(posted) if posted.isascii() and posted.isdigit() and len(posted) < 4 else stored
        return min(max(count, 1), LIST_LIMIT)

    def fields(self, data: Mapping[str, Any] | None) -> dict[str, forms.Field]:
        self.rows = self._rows(self.count(data))
        hidden = forms.IntegerField(required=False, initial=len(self.rows), widget=forms.HiddenInput)
        made: dict[str, forms.Field] = {self.count_name: hidden}
        for row in self.rows:
            if self.has_names:
                made[f"{row.prefix}-name"] = forms.CharField(
                    required=False,
                    initial=row.stored.get("name", ""),
                    label="Name",
                    max_length=200,
                    widget=forms.TextInput(attrs=quiet()),
                )
            made.update(row.fields())
        return made

    def value(self, cleaned: Mapping[str, Any]) -> Any:
        values = []
        for row in self.rows:
            place = row.value(cleaned)
            name = cleaned.get(f"{row.prefix}-name") or ""
            if row.stored or name or not self._is_blank(place):
                values.append({"name": name, **place} if self.has_names else place)
        return values or None

    def _is_blank(self, place: Mapping[str, Any]) -> bool:
        """Whether nothing was said yet in a row that was added."""
        return "offset" not in place and "mark" not in place and place.get("datum") in ("start", "end")

    def ignored(self, posted: Mapping[str, Any]) -> list[str]:
        """Return the fields whose text says nothing, so that no fault is found in them."""
        return [name for row in self.rows for name in row.ignored(posted)]

    def field_at(self, path: tuple[str | int, ...]) -> str:
        index = path[0] if path and isinstance(path[0], int) and path[0] < len(self.rows) else 0
        part = path[1] if len(path) > 1 else ("name" if self.has_names else "on")
        name = f"{self.prefix}-{index}-{part}"
        assert self.form is not None
        return name if name in self.form.fields else f"{self.prefix}-{index}-on"

    @property
    def names(self) -> list[str]:
        return [name for row in self.rows for name in self.row_names(row)]

    def row_names(self, row: PlaceFields) -> list[str]:
        """Return the names of the fields of one row."""
        first = [f"{row.prefix}-name"] if self.has_names else []
        return first + [f"{row.prefix}-{part}" for part in row.parts]

    @property
    def count_field(self) -> BoundField:
        """The hidden field that counts the rows."""
        assert self.form is not None
        return self.form[self.count_name]

    @property
    def bound_rows(self) -> list[dict[str, Any]]:
        """The rows with their fields, each with what it says of the place, for the template."""
        assert self.form is not None
        return [
            {
                "number": index + 1,
                "index": index,
                "fields": [(name.rpartition("-")[2], self.form[name]) for name in self.row_names(row)],
            }
            for index, row in enumerate(self.rows)
        ]

    @property
    def words(self) -> str:
        said = []
        for row, bound in zip(self.rows, self.bound_rows, strict=True):
            if row.stored:
                kept = [field for part, field in bound["fields"] if part == "name" or row.says(part)]
                said.append(words_of(kept))
        return "; ".join(said)
