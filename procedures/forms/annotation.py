"""The form of the marks on a photo: a row each, its points in per cent of the photo."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from calculators import typed
from calculators.number_texts import MINUS, decimal
from calculators.typed import TypedError
from calculators.wording import UnitSystem
from procedures.engine.annotation import (
    KINDS,
    LENGTH,
    MOST_ANNOTATIONS,
    TEXT_LIMIT,
    Annotation,
    fault_of,
)

from .typed import TypedField, length_field, quiet

MOST_ROWS = 200  # rows that are read; more were never typed by hand
POINT_FIELDS = (("x", "y"), ("to_x", "to_y"))
WHERE = "Say where: 0 to 100 %."
LABELS = {"x": "Across", "y": "Down", "to_x": "Second, across", "to_y": "Second, down"}


class AnnotationForm(forms.Form):
    """One mark on a photo. An arrow goes from its words to its tip; a circle fills the box of its corners."""

    kind = forms.ChoiceField(label="Kind", choices=list(KINDS.items()), initial="arrow")
    text = forms.CharField(label="Words", required=False, widget=forms.TextInput(attrs={"dir": "auto"}))

    def __init__(
        self, *args: Any, units: UnitSystem, stored: Annotation | None = None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.units = units
        if stored:
            self.initial = {"kind": stored.kind, "text": stored.text}
        length = stored.length if stored else None
        self.fields["length"] = length_field(units, length, zero_ok=False, label="Length")
        given = stored.points if stored else ()
        for index, names in enumerate(POINT_FIELDS):
            shares = given[index] if index < len(given) else (None, None)
            for name, share in zip(names, shares, strict=True):
                self.fields[name] = _percent_field(share, LABELS[name], required=index == 0)

    def has_changed(self) -> bool:
        """Whether it holds a mark: anything typed in it, beside the kind that is chosen from the start."""
        return any(self[name].data for name in self.fields if name not in ("kind", "DELETE"))

    def clean_text(self) -> str:
        """Return the words on one line, if they are not too many."""
        text = " ".join(str(self.cleaned_data["text"]).split())
        if len(text) > TEXT_LIMIT:
            raise forms.ValidationError(
                f"This is {len(text)} characters long; the words of a mark have at most {TEXT_LIMIT}. "
                "Say the rest in the caption."
            )
        return text

    def clean_length(self) -> float | None:
        """Return the length within what a document takes."""
        length: float | None = self.cleaned_data["length"]
        if length is not None and length > (LENGTH.most or length):
            raise forms.ValidationError(f"A length is at most {self.units.length(LENGTH.most or 0)}.")
        return length

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if "kind" not in cleaned:
            return cleaned
        names = POINT_FIELDS[: 1 if cleaned["kind"] == "label" else 2]
        for name in (one for pair in names for one in pair):
            if name in cleaned and cleaned[name] is None:
                self.add_error(name, WHERE)
        if not self.errors:
            fault = fault_of(self.annotation)
            if fault:
                self.add_error("to_x" if fault[0] == "points" else fault[0], fault[1])
        return cleaned

    @property
    def annotation(self) -> Annotation:
        """The mark, of a form without faults."""
        given = self.cleaned_data
        names = POINT_FIELDS[: 1 if given["kind"] == "label" else 2]
        points = tuple((given[x], given[y]) for x, y in names)
        return Annotation(given["kind"], points, given["text"], given["length"])


class _Rows(forms.BaseFormSet):
    """The marks on a photo as rows; those that are empty or removed do not count."""

    def __init__(self, *args: Any, stored: Sequence[Annotation] = (), **kwargs: Any) -> None:
        self.stored = stored
        super().__init__(*args, **kwargs)

    def get_form_kwargs(self, index: int | None) -> dict[str, Any]:
        own = self.stored[index] if index is not None and index < len(self.stored) else None
        return {**super().get_form_kwargs(index), "stored": own}

    def add_fields(self, form: forms.Form, index: int | None) -> None:
        super().add_fields(form, index)
        form.fields["DELETE"].label = "Remove"

    def clean(self) -> None:
        count = len(self._counted())
        if count > MOST_ANNOTATIONS:
            raise forms.ValidationError(
                f"There are {count} marks; a photo takes at most {MOST_ANNOTATIONS}. Remove some."
            )

    def _counted(self) -> list[AnnotationForm]:
        return [one for one in self.forms if one.has_changed() and not one.cleaned_data.get("DELETE")]

    @property
    def annotations(self) -> tuple[Annotation, ...]:
        """The marks of the rows without faults, in order."""
        return tuple(one.annotation for one in self._counted() if one.is_valid())


def annotations_formset(
    units: UnitSystem, stored: Sequence[Annotation], data: Any = None, *, spare: int = 0
) -> Any:
    """Return the rows of these marks, with so many empty ones after them; or the rows that were typed."""
    kind: Any = forms.formset_factory(
        AnnotationForm,
        formset=_Rows,
        extra=len(stored) + spare,
        can_delete=True,
        max_num=MOST_ROWS,
        absolute_max=MOST_ROWS,
    )
    return kind(data, stored=stored, form_kwargs={"units": units}, prefix="mark")


def _percent_field(share: float | None, label: str, *, required: bool) -> TypedField:
    """Return a field for a share of the photo, typed in per cent."""

    def parse(text: str) -> float:
        bare = text.replace(MINUS, "-").removesuffix("%").strip()
        percent = typed.parse_number(bare, negative_ok=True)
        if not 0 <= percent <= 100:
            raise TypedError(f"{percent:g} % lies outside the photo, which goes from 0 to 100 %.")
        return percent / 100

    shown = "" if share is None else decimal(share * 100, 1)
    widget = forms.TextInput(attrs=quiet(inputmode="decimal"))
    more: dict[str, Any] = {"label": label, "required": required, "error_messages": {"required": WHERE}}
    return TypedField(parse, share, shown, "%", widget=widget, **more)
