"""The form of a class timetable: who comes, what there is for them, how long, and how the class works."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from django import forms

from procedures.planning.profile import ShopProfile
from procedures.presenting.timetable import HELPED, Pace
from procedures.timetable import ClassShop

MOST_STUDENTS = 60
MOST_PIECES = 20
MOST_PLACES = 60
LONGEST = 24 * 60  # minutes of a session
USUAL = ClassShop()
PACE = Pace()
HEATS = {"student": "as predicted", "planned": "as planned"}
_NUMBERS = (  # field, label, help, least, most
    ("students", "Students", "", 1, MOST_STUDENTS),
    ("pieces", "Pieces each", "", 1, MOST_PIECES),
    ("forges", "Fires", "", 0, MOST_PLACES),
    ("irons", "Irons in each fire", "at once", 1, 12),
    ("anvils", "Anvils", "", 0, MOST_PLACES),
    ("vices", "Vices", "", 0, MOST_PLACES),
    ("helpers", "Helpers", "who strike and hold", 0, MOST_PLACES),
    ("teachers", "Teachers", "who look at gates", 0, MOST_PLACES),
    ("session", "Session", "minutes, all in all", 10, LONGEST),
    ("showing", "Showing", "minutes, before they begin", 0, LONGEST),
    ("clean_down", "Cleaning down", "minutes, at the end", 0, LONGEST),
)
_PARTS = (  # of a minute: field, label, help, most
    ("look", "A look at a gate", "minutes, each student", 60),
    ("cold", "A cold step", "minutes: marking out, filing, measuring", 240),
    ("lost", "Lost in each heat", "minutes: walking, brushing, asking", 30),
)


class TimetableForm(forms.Form):
    """What is asked of a timetable. `powered` are the steps that a power hammer can do: (key, title)."""

    def __init__(self, powered: Sequence[tuple[str, str]], data: Any = None) -> None:
        super().__init__(data)
        for name, label, told, least, most in _NUMBERS:
            self.fields[name] = forms.IntegerField(
                label=label,
                help_text=told,
                min_value=least,
                max_value=most,
                initial=int(getattr(USUAL, name)),
            )
        for name, label, told, longest in _PARTS:
            self.fields[name] = forms.FloatField(
                label=label,
                help_text=told,
                min_value=0,
                max_value=longest,
                initial=f"{getattr(USUAL if hasattr(USUAL, name) else PACE, name):g}",
                widget=forms.NumberInput(attrs={"step": "any"}),
            )
        self.fields["power_hammer"] = forms.BooleanField(
            label="There is a power hammer", required=False, initial=False
        )
        self.fields["powered"] = forms.MultipleChoiceField(
            label="Done under the power hammer, where there is one",
            help_text="Only with somebody beside it who knows it.",
            choices=list(powered),
            required=False,
            initial=[key for key, _ in powered],
            widget=forms.CheckboxSelectMultiple,
        )
        self.fields["helped"] = forms.ChoiceField(
            label="A helper stands by at",
            help_text="else they work alone, or help one another",
            choices=list(HELPED.items()),
            initial=PACE.helped,
        )
        self.fields["heats"] = forms.ChoiceField(
            label="Heats of each step",
            help_text="predicted for a student, or by its author",
            choices=list(HEATS.items()),
            initial="student",
        )
        self.fields["holds"] = forms.BooleanField(
            label="An iron stays in the fire until its smith has an anvil",
            required=False,
            initial=USUAL.holds,
        )
        self.fields["begins"] = forms.DateTimeField(
            label="Begins",
            help_text="for times by the clock, and for the calendar",
            required=False,
            input_formats=["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M"],
            widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
        )

    def rows(self, *names: str) -> list[forms.BoundField]:
        """Return some of its fields."""
        return [self[one] for one in names]

    @property
    def who(self) -> list[forms.BoundField]:
        """Who comes, and for how long."""
        return self.rows("students", "pieces", "session", "showing", "clean_down", "begins")

    @property
    def places(self) -> list[forms.BoundField]:
        """What there is for them."""
        return self.rows("forges", "irons", "anvils", "vices", "helpers", "teachers")

    @property
    def pace(self) -> list[forms.BoundField]:
        """How the class works."""
        return self.rows("heats", "helped", "cold", "lost", "look")

    def clean_begins(self) -> datetime | None:
        """Return the time as it was typed: by the clock on the wall, of no zone."""
        found: datetime | None = self.cleaned_data["begins"]
        return found.replace(tzinfo=None) if found else None

    def clean(self) -> dict[str, Any]:
        """Refuse a session that leaves no time to work."""
        found = super().clean() or {}
        if {"session", "showing", "clean_down"} <= found.keys():
            session, showing, clean_down = found["session"], found["showing"], found["clean_down"]
            if showing + clean_down >= session:
                self.add_error(
                    "session",
                    f"Showing takes {showing} min and cleaning down {clean_down}: a session of {session} min"
                    " leaves no time to work.",
                )
        return found

    @property
    def shop(self) -> ClassShop:
        """The class and its shop."""
        given = self.cleaned_data
        names = ("students", "pieces", "forges", "irons", "anvils", "vices", "helpers", "teachers")
        return ClassShop(
            **{name: given[name] for name in names},
            power_hammers=int(given["power_hammer"]),
            session=float(given["session"]),
            showing=float(given["showing"]),
            clean_down=float(given["clean_down"]),
            look=given["look"],
            holds=given["holds"],
        )

    def pace_in(self, shop: ShopProfile) -> Pace:
        """Return how it works in a shop: as students do, by hand where no power hammer is said."""
        given = self.cleaned_data
        return Pace(
            cold=given["cold"],
            lost=given["lost"],
            powered=frozenset(given["powered"]) if given["power_hammer"] else frozenset(),
            helped=given["helped"],
            as_planned=given["heats"] == "planned",
            profile=replace(shop, skill="student", hammer="hand"),
        )
