"""Forms of the record of an original: what it is, a measurement on it, a source."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.utils.timezone import localdate

from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.engine import originals
from procedures.engine.originals_stored import read_measurement
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import Replay

from .sources import keys_of_sources
from .stock import wants
from .typed import length_field

LONG = 200  # letters from which a text gets several lines
ROWS = 2  # faces that a new measurement offers
FACE = ("face", "depth", "doubt", "because")
_STORED = {"doubt": "uncertainty", "because": "reason"}
USUAL = "Usual: calipers 0.2 mm, a tape 1 mm, a photo with a scale 3 mm (common practice, no source)."


class PastDate(forms.DateField):
    """A day that is not yet to come."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
        super().__init__(required=False, input_formats=["%Y-%m-%d"], widget=widget, **kwargs)

    def clean(self, value: Any) -> str:
        """Return the day as the document holds it, or "". Raises ValidationError."""
        day = super().clean(value)
        if day is None:
            return ""
        if day > localdate():
            raise forms.ValidationError("This day is still to come.")
        return str(day.isoformat())


class OriginalForm(forms.Form):
    """What the original is, and who permits what; `said` is its stored form."""

    def __init__(self, stored: Mapping[str, Any], data: Any = None) -> None:
        super().__init__(data)
        for key, (label, help_text, most) in originals.TEXTS.items():
            widget = forms.Textarea(attrs={"rows": 2}) if most > LONG else forms.TextInput()
            self.fields[key] = forms.CharField(
                label=label,
                help_text=help_text,
                max_length=most,
                required=False,
                initial=stored.get(key, ""),
                widget=widget,
            )
        self.fields["seen_on"] = PastDate(label="When it was seen", initial=stored.get("seen_on", ""))
        for key in originals.PERMITS:
            self._add_permit(key, stored.get("permits", {}).get(key, {}))

    def _add_permit(self, key: str, stored: Mapping[str, str]) -> None:
        self.fields[f"{key}_answer"] = forms.ChoiceField(
            label="Permission",
            choices=[("", "not asked"), *originals.ANSWERS.items()],
            required=False,
            initial=stored.get("answer", ""),
        )
        self.fields[f"{key}_by"] = forms.CharField(
            label="Given by", max_length=originals.WORDS, required=False, initial=stored.get("by", "")
        )
        self.fields[f"{key}_on"] = PastDate(label="On", initial=stored.get("on", ""))
        self.fields[f"{key}_terms"] = forms.CharField(
            label="Terms",
            max_length=originals.REFERENCE_LIMIT,
            required=False,
            initial=stored.get("terms", ""),
        )

    @property
    def texts(self) -> list[BoundField]:
        """The fields of words, with the day it was seen."""
        return [self[key] for key in (*originals.IDENTITY, "seen_on", *originals.ORIGINAL)]

    @property
    def permits(self) -> list[tuple[str, list[BoundField]]]:
        """What may be permitted, with its fields."""
        parts = ("answer", "by", "on", "terms")
        return [(label, [self[f"{key}_{one}"] for one in parts]) for key, label in originals.PERMITS.items()]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        for key in originals.PERMITS:
            said = any(cleaned.get(f"{key}_{one}") for one in ("by", "on", "terms"))
            if said and not cleaned.get(f"{key}_answer"):
                self.add_error(f"{key}_answer", "Say whether it was permitted.")
            if cleaned.get(f"{key}_answer") == "yes" and not cleaned.get(f"{key}_by"):
                self.add_error(f"{key}_by", "Say who permitted it.")
        return cleaned

    @property
    def said(self) -> dict[str, Any]:
        """The stored form, once valid."""
        kept = self.cleaned_data
        texts = {key: kept[key].replace("\r\n", "\n") for key in originals.TEXTS if kept[key]}
        parts = ("answer", "by", "on", "terms")
        permits = {
            key: {one: kept[f"{key}_{one}"] for one in parts if kept[f"{key}_{one}"]}
            for key in originals.PERMITS
            if kept[f"{key}_answer"]
        }
        day = {"seen_on": kept["seen_on"]} if kept["seen_on"] else {}
        return {**texts, **day, **({"permits": permits} if permits else {})}


class SourceForm(forms.Form):
    """A source that steps and measurements cite."""

    kind = forms.ChoiceField(label="Kind", choices=list(originals.SOURCE_KINDS.items()))
    text = forms.CharField(
        label="What it is",
        max_length=originals.REFERENCE_LIMIT,
        help_text="So that another finds it again: author, title, year, page; whose letter; which piece.",
    )

    def __init__(self, stored: Mapping[str, Any], data: Any = None) -> None:
        super().__init__(data, initial=dict(stored))

    @property
    def entry(self) -> dict[str, Any]:
        """The stored form without its key, once valid."""
        return dict(self.cleaned_data)


class MeasurementForm(forms.Form):
    """A measurement with what its faces lost; `entry` is its stored form."""

    def __init__(
        self, units: UnitSystem, replayed: Replay, stored: Mapping[str, Any], data: Any = None
    ) -> None:
        super().__init__(data)
        self.stored = stored
        self.entry: dict[str, Any] = {}
        add = self.fields
        add["what"] = forms.CharField(
            label="What is measured",
            max_length=originals.WORDS,
            initial=stored.get("what", ""),
            help_text="The size and where: thickness of the leaf, 40 mm from the eye.",
        )
        add["value"] = length_field(
            units, stored.get("value"), zero_ok=False, label="As found", required=True
        )
        add["uncertainty"] = length_field(
            units,
            stored.get("uncertainty"),
            label="Give or take",
            required=True,
            help_text=retold(USUAL, units),
        )
        add["tool"] = forms.ChoiceField(
            label="With what", choices=list(originals.TOOLS.items()), initial=stored.get("tool", "calipers")
        )
        add["opening"] = forms.BooleanField(
            label="It is the size of an opening",
            required=False,
            initial=stored.get("opening", False),
            help_text="A hole or an eye was smaller before it corroded, metal was larger.",
        )
        self._add_faces(units, list(stored.get("faces", [])))
        cited = ", ".join(one.upper() for one in stored.get("sources", ()))
        add["sources"] = forms.CharField(
            label="Sources", required=False, max_length=500, initial=cited, help_text="By their keys: S1, S4."
        )
        add["note"] = forms.CharField(
            label="Note", required=False, max_length=originals.WORDS, initial=stored.get("note", "")
        )
        add["size"] = forms.ChoiceField(
            label="It is this size of the procedure",
            choices=[("", "none of them"), *_sizes(replayed)],
            required=False,
            initial="/".join((stored["part"], stored["size"])) if stored.get("size") else "",
            help_text="Then the stock can be worked back from it.",
        )

    def _add_faces(self, units: UnitSystem, faces: list[Mapping[str, Any]]) -> None:
        self.rows = min(max(ROWS, len(faces) + 1), originals.MOST_FACES)
        for index in range(self.rows):
            face = faces[index] if index < len(faces) else {}
            self.fields[f"face_{index}"] = forms.CharField(
                label="Face", required=False, max_length=60, initial=face.get("face", "")
            )
            self.fields[f"depth_{index}"] = length_field(units, face.get("depth"), label="It lost")
            self.fields[f"doubt_{index}"] = length_field(units, face.get("uncertainty"), label="Give or take")
            self.fields[f"because_{index}"] = forms.CharField(
                label="Why so much",
                required=False,
                max_length=originals.WORDS,
                initial=face.get("reason", ""),
            )

    @property
    def faces(self) -> list[list[BoundField]]:
        """The fields of each face."""
        return [[self[f"{one}_{index}"] for one in FACE] for index in range(self.rows)]

    @property
    def own(self) -> list[BoundField]:
        """The other fields that stand after the faces."""
        return [self[one] for one in ("sources", "note", "size")]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if self.errors:
            return cleaned
        part, _, size = (cleaned.get("size") or "").partition("/")
        given = {key: cleaned[key] for key in ("what", "value", "tool", "opening", "note")}
        self.entry = {key: value for key, value in given.items() if value}
        self.entry["uncertainty"] = cleaned["uncertainty"]
        self.entry |= {"part": part, "size": size} if size else {}
        used = [index for index in range(self.rows) if any(cleaned[f"{one}_{index}"] for one in FACE)]
        faces = [_face(cleaned, index) for index in used]
        try:
            cited = keys_of_sources(cleaned["sources"])
        except DocumentError as error:
            self.add_error("sources", error.message)
            return cleaned
        self.entry |= {"faces": faces} if faces else {}
        self.entry |= {"sources": list(cited)} if cited else {}
        try:
            read_measurement({**self.entry, "key": "m1"}, ())
        except DocumentError as error:
            self.add_error(self._field_of(error.path.split("/"), used), error.message)
        return cleaned

    def _field_of(self, path: list[str], used: list[int]) -> str | None:
        """Return the field that a fault in the stored form stands at."""
        if path[0] == "faces":
            row = used[int(path[1])] if len(path) > 1 else used[0]
            stored = path[2] if len(path) > 2 else "depth"
            shown = next((key for key, value in _STORED.items() if value == stored), stored)
            return f"{shown}_{row}"
        return path[0] if path[0] in self.fields else None


def _face(cleaned: Mapping[str, Any], index: int) -> dict[str, Any]:
    face = {_STORED.get(one, one): cleaned[f"{one}_{index}"] for one in FACE}
    face["depth"] = face["depth"] or 0
    return {key: value for key, value in face.items() if value or key != "uncertainty"}


def _sizes(replayed: Replay) -> list[tuple[str, str]]:
    """Return the sizes that the procedure gives, by part and kind."""
    many = len(replayed.parts) > 1
    return [
        (f"{part.part.key}/{key}", f"{part.part.name}: {words}" if many else words)
        for part in replayed.parts
        for key, words in wants(part)
        if key.partition(":")[0] in originals.SIZES
    ]
