"""The form of a result: what was forged, with which bar, how it went, and what was measured at which step."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField
from django.utils import timezone

from calculators import typed
from calculators.wording import UnitSystem
from procedures.actions.results import AHEAD, EARLIEST, Report
from procedures.doubting import doubts
from procedures.engine.document import Document
from procedures.engine.frames import Frame
from procedures.engine.replay import replay
from procedures.models import Result, ResultReading
from procedures.models.talk import WORDS_LIMIT
from procedures.predicting import PIECE
from procedures.replanning import Asked, asked_of

from .typed import TypedField, length_field, quiet, section_field

MOST_HEATS = 5000
MOST_MINUTES = 100_000
POUND = 0.45359237  # kg


@dataclass(frozen=True)
class Row:
    """One place that is measured: its label, what is predicted, and the fields it is typed in."""

    label: str
    predicted: str
    length: BoundField | None = None
    section: BoundField | None = None
    mass: BoundField | None = None


@dataclass
class StepRows:
    """What can be measured at one step; `is_open` where something stands there or is wrong."""

    number: int
    title: str
    part: str
    rows: list[Row] = field(default_factory=list)

    @property
    def is_open(self) -> bool:
        """Whether a field of it holds something."""
        fields = [one for row in self.rows for one in (row.length, row.section, row.mass) if one]
        return any(one.value() or one.errors for one in fields)


@dataclass(frozen=True)
class _Gauge:
    """The names of the fields of a place, and the place."""

    frame: Frame
    part: str
    name: str
    asked: Asked | None  # None for the weight of the piece


class ResultForm(forms.Form):
    """A result of a revision. Fields for sizes are made from its replay; `report` is what was said."""

    forged = forms.DateField(
        label="Forged on",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": "Say when you forged it.", "invalid": "Type a date such as 2026-03-14."},
    )
    heats = forms.IntegerField(label="Heats it took", required=False, min_value=0, max_value=MOST_HEATS)
    minutes = forms.IntegerField(
        label="Minutes it took",
        required=False,
        min_value=0,
        max_value=MOST_MINUTES,
        help_text="From the first heat to the last blow.",
    )
    words = forms.CharField(
        label="How it went",
        required=False,
        max_length=WORDS_LIMIT,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    wrong = forms.CharField(
        label="What went wrong",
        required=False,
        max_length=WORDS_LIMIT,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    wrong_at = forms.ChoiceField(label="At which step", required=False)
    changed = forms.CharField(
        label="What you did otherwise",
        required=False,
        max_length=WORDS_LIMIT,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    sure = forms.BooleanField(label="I looked once more: it is as I typed it", required=False)

    def __init__(
        self, data: Any, *, document: Document, units: UnitSystem, result: Result | None = None
    ) -> None:
        """`result` is the one to be changed, whose first piece is shown."""
        super().__init__(data, initial=_initial(result))
        self.document, self.units = document, units
        self.doubts: list[str] = []
        self._gauges: list[_Gauge] = []
        said = {(one.part, one.step, one.kind, one.branch): one for one in _first_piece(result)}
        self._add_bars(result)
        steps = [("", "No one step")]
        for number, part in enumerate(replay(document).parts):
            for frame in part.frames:
                steps.append(
                    (f"{part.part.key}/{frame.key}", f"{part.part.name}, {frame.number}. {frame.title}")
                )
                self._add_step(f"m{number}-{frame.number}", part.part.key, frame, said)
        self.fields["wrong_at"].choices = steps  # type: ignore[attr-defined]

    def _add_bars(self, result: Result | None) -> None:
        used = {one["part"]: one for one in (result.bars if result else [])}
        for number, part in enumerate(self.document.parts):
            own = used.get(part.key, {})
            section = own.get("section") or part.section.to_json()
            length = own.get("length") or part.length
            self.fields[f"bar{number}-section"] = section_field(self.units, section, label="Section")
            self.fields[f"bar{number}-length"] = length_field(
                self.units, length, zero_ok=False, label="Length"
            )

    def _add_step(self, name: str, part: str, frame: Frame, said: dict[Any, ResultReading]) -> None:
        if frame.status != "done":
            return
        for index, asked in enumerate(asked_of(frame, self.units)):
            own = said.get((part, frame.key, asked.kind, asked.branch))
            stem = f"{name}-{index}"
            length, section = (own.length, own.section) if own else (None, None)
            self.fields[f"{stem}-length"] = length_field(self.units, length, zero_ok=False, label="Length")
            if asked.section:
                self.fields[f"{stem}-section"] = section_field(self.units, section, label="Section")
            self._gauges.append(_Gauge(frame, part, stem, asked))
        own = said.get((part, frame.key, PIECE, ""))
        self.fields[f"{name}-mass"] = _mass_field(self.units, own.mass if own else None, frame.after.mass)
        self._gauges.append(_Gauge(frame, part, name, None))

    # -- showing -------------------------------------------------------------------------------------

    @property
    def bars(self) -> list[tuple[str, BoundField, BoundField]]:
        """The parts by name, with the fields of the bar used."""
        return [
            (part.name, self[f"bar{number}-section"], self[f"bar{number}-length"])
            for number, part in enumerate(self.document.parts)
        ]

    @property
    def steps(self) -> list[StepRows]:
        """The fields of what was measured, step by step."""
        names = {one.key: one.name for one in self.document.parts}
        found: dict[tuple[str, str], StepRows] = {}
        for one in self._gauges:
            step = StepRows(one.frame.number, one.frame.title, names[one.part])
            rows = found.setdefault((one.part, one.frame.key), step).rows
            if one.asked is None:
                weight = self.units.mass(one.frame.after.mass)
                rows.append(Row("The whole piece", weight, mass=self[f"{one.name}-mass"]))
                continue
            predicted = ", ".join(text for text in (one.asked.length, one.asked.section) if text)
            section = self[f"{one.name}-section"] if one.asked.section else None
            rows.append(Row(one.asked.label, predicted, self[f"{one.name}-length"], section))
        return list(found.values())

    # -- reading -------------------------------------------------------------------------------------

    def clean_forged(self) -> Any:
        """Refuse a day to come."""
        day = self.cleaned_data["forged"]
        if day > timezone.localdate() + AHEAD:
            raise ValidationError("That day is still to come: say when you forged it.")
        if day < EARLIEST:
            raise ValidationError("Nobody reports here from before 1900: look at the year.")
        return day

    def clean(self) -> dict[str, Any]:
        """Ask about what looks like a slip, once."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not self.errors:
            self.doubts = doubts(self.document, self._readings(), self._bars(), self.units)
            if self.doubts and not cleaned.get("sure"):
                raise ValidationError("Some sizes look like slips. Mend them, or say that they are right.")
        return cleaned

    @property
    def report(self) -> Report:
        """What was said, once the form is valid."""
        given = self.cleaned_data
        part, _, step = given["wrong_at"].partition("/")
        return Report(
            forged=given["forged"],
            words=given["words"],
            heats=given["heats"],
            minutes=given["minutes"],
            bars=self._bars(),
            wrong=given["wrong"],
            wrong_part=part,
            wrong_step=step,
            changed=given["changed"],
            readings=tuple(self._readings()),
        )

    def _bars(self) -> list[dict[str, Any]]:
        given = self.cleaned_data
        rows = [
            {"part": part.key, "section": given[f"bar{n}-section"], "length": given[f"bar{n}-length"]}
            for n, part in enumerate(self.document.parts)
        ]
        return [one for one in rows if one["section"] or one["length"]]

    def _readings(self) -> list[ResultReading]:
        found = []
        for one in self._gauges:
            own = {"part": one.part, "step": one.frame.key}
            sizes = {
                name: self.cleaned_data.get(f"{one.name}-{name}")
                for name in (("length", "section") if one.asked else ("mass",))
            }
            place = (
                {"kind": PIECE} if one.asked is None else {"kind": one.asked.kind, "branch": one.asked.branch}
            )
            if any(value is not None for value in sizes.values()):
                found.append(ResultReading(**own, **place, **sizes))
        return found


def _first_piece(result: Result | None) -> list[ResultReading]:
    return list(result.readings.filter(piece=1)) if result else []


def _initial(result: Result | None) -> dict[str, Any]:
    if result is None:
        return {"forged": timezone.localdate()}
    names = ("forged", "heats", "minutes", "words", "wrong", "changed")
    wrong_at = f"{result.wrong_part}/{result.wrong_step}" if result.wrong_step else ""
    return {name: getattr(result, name) for name in names} | {"wrong_at": wrong_at}


def _mass_field(units: UnitSystem, stored: float | None, predicted: float) -> TypedField:
    """Return the field of a weight, typed in the unit that it is predicted in."""
    if units.length_unit == "mm":
        unit = "kg" if predicted >= 1 else "g"
    else:
        unit = "lb" if predicted >= POUND else "oz"

    def parse(text: str) -> float:
        return typed.parse_mass(text, unit)

    shown = units.mass(stored) if stored is not None else ""
    return TypedField(parse, stored, shown, unit, widget=forms.TextInput(attrs=quiet()), label="Weight")
