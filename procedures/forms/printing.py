"""Forms of what is printed: they only offer the choices, which the address of the print holds."""

from __future__ import annotations

from collections.abc import Iterable

from django import forms
from django.http import QueryDict

from calculators.wording import METRIC, UNIT_SYSTEMS, UnitSystem
from procedures.printing import HANDS, ORIENTATIONS, SIZES
from procedures.printing.choices import Choices
from procedures.printing.course import Course

from .typed import length_field

KERF, MOST_KERF = 1.5, 20.0  # mm: a band saw; wider than any saw


def _offered(names: Iterable[str]) -> list[tuple[str, str]]:
    return [(name, name[:1].upper() + name[1:]) for name in names]


class SheetForm(forms.Form):
    """The paper, the hand and the units; `units` are those that the reader reads in."""

    size = forms.ChoiceField(
        label="Paper",
        choices=_offered(SIZES),
        widget=forms.RadioSelect,
        help_text="A5 and Half Letter hang beside the anvil; A4 and Letter are read from the wall.",
    )
    orientation = forms.ChoiceField(
        label="Which way up", choices=_offered(ORIENTATIONS), widget=forms.RadioSelect
    )
    hand = forms.ChoiceField(
        label="Hammer hand",
        choices=_offered(HANDS),
        widget=forms.RadioSelect,
        help_text="For the left hand, drawings show the piece from its other side, as it lies in the tongs.",
    )
    units = forms.ChoiceField(
        label="Units",
        choices=[(one.id, one.title) for one in UNIT_SYSTEMS.values()],
        widget=forms.RadioSelect,
    )

    def __init__(self, chosen: Choices, units: UnitSystem, **more: object) -> None:
        sheet = chosen.sheet
        initial = {"size": sheet.size, "orientation": sheet.orientation, "hand": sheet.hand}
        super().__init__(initial={**initial, "units": chosen.units or units.id, **more})


class CardForm(SheetForm):
    """What a shop card is printed on, and what it holds; `parts` are the keys and names of all parts."""

    part = forms.ChoiceField(label="Part", required=False)
    photos = forms.BooleanField(label="With photos", required=False)
    notes = forms.BooleanField(
        label="With notes",
        required=False,
        help_text="What the author says of each step, and how it was done of old and is done today.",
    )

    def __init__(self, chosen: Choices, units: UnitSystem, parts: list[tuple[str, str]]) -> None:
        contents = chosen.contents
        super().__init__(chosen, units, part=contents.part, photos=contents.photos, notes=contents.notes)
        self.fields["part"].choices = [("", "All parts"), *parts]  # type: ignore[attr-defined]
        if len(parts) < 2:
            del self.fields["part"]
        self.order_fields(["part"])


class HandoutForm(SheetForm):
    """A class and the procedures it makes; unlike the choices of paper, what is typed here is checked.

    `offered` are the slugs and titles of the procedures to choose from.
    """

    p = forms.MultipleChoiceField(
        label="Procedures",
        widget=forms.CheckboxSelectMultiple,
        required=True,
        error_messages={"invalid_choice": "There is no procedure %(value)s here that you may read."},
        help_text="Their cards follow each other in this order.",
    )
    course = forms.CharField(label="Course", max_length=200, required=False, initial=Course().title)
    teacher = forms.CharField(label="Teacher", max_length=200, required=False)
    date = forms.CharField(label="Date", max_length=200, required=False, help_text="As it is to be printed.")
    place = forms.CharField(label="Place", max_length=200, required=False)
    students = forms.IntegerField(label="Students", min_value=1, max_value=100, initial=8)
    spare = forms.IntegerField(
        label="Spare sets of material",
        min_value=0,
        max_value=100,
        required=False,
        help_text="Left empty: one for every ten students begun.",
    )

    at_once = forms.IntegerField(
        label="Forging at once",
        min_value=1,
        max_value=100,
        required=False,
        help_text="How many have a fire and an anvil at the same time; left empty: all of them.",
    )

    def __init__(
        self, chosen: Choices, units: UnitSystem, offered: list[tuple[str, str]], given: QueryDict
    ) -> None:
        super().__init__(chosen, units)
        self.fields["p"].choices = offered  # type: ignore[attr-defined]
        # Read in millimetres whoever reads: the address may be passed on to someone who reads in inches.
        self.fields["kerf"] = length_field(
            METRIC, KERF, label="Width of the saw cut", help_text="A band saw takes 1 to 1.5 mm a cut."
        )
        self.order_fields(["p", "course", "teacher", "date", "place", "students", "spare", "at_once", "kerf"])
        if "students" in given:
            # What the address leaves out is as it was first offered; what it says is checked.
            filled = given.copy()
            for name in ("size", "orientation", "hand", "units"):
                filled[name] = str(self.initial[name])
            self.data, self.is_bound = filled, True
        elif given.getlist("p"):
            self.initial["p"] = given.getlist("p")

    def clean_kerf(self) -> float:
        """Return the width of a saw cut [mm]."""
        kerf: float | None = self.cleaned_data["kerf"]
        if kerf is not None and kerf > MOST_KERF:
            raise forms.ValidationError(f"No saw cuts {kerf:g} mm wide; at most {MOST_KERF:g} mm are taken.")
        return kerf or 0.0

    @property
    def chosen_course(self) -> Course:
        """The class, once the form is valid."""
        said = self.cleaned_data
        students = said["students"]
        spare = said["spare"]
        return Course(
            title=said["course"] or Course().title,
            teacher=said["teacher"],
            date=said["date"],
            place=said["place"],
            students=students,
            spare=-(-students // 10) if spare is None else spare,
            at_once=min(said["at_once"] or students, students),
            kerf=said["kerf"],
        )
