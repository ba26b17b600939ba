"""Forms of what is printed: they only offer the choices, which the address of the print holds."""

from __future__ import annotations

from collections.abc import Iterable

from django import forms

from calculators.wording import UNIT_SYSTEMS, UnitSystem
from procedures.printing import HANDS, ORIENTATIONS, SIZES
from procedures.printing.choices import Choices


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
        help_text="For the left hand drawings show the piece from its other side, as it lies in the tongs.",
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
