"""Forms of a procedure outside its steps: a new one, its details, its parts, its photos."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from calculators.wording import UnitSystem
from procedures.engine.document import CREDIT_LIMIT, LEVELS, LICENCES
from procedures.engine.parameters.fields import FIRE_LENGTHS
from procedures.engine.scale import FIRES

from .own_material import MaterialMixin
from .typed import length_field, quiet, section_field

FIRE_CHOICES = [(key, one.title) for key, one in FIRES.items()]


_MEASURED = "Depth of metal on each face, if you measured it at your own fire."
# What a smith may say of the own fire: the label and the help of each length.
OWN_FIRE = {
    "forging": ("Scale of a forging heat", _MEASURED),
    "welding": ("Scale of a welding heat", _MEASURED),
    "hot_length": ("Hot length", "How much bar the fire makes hot at once, such as the length of the forge."),
    "door": ("Door", "How high and wide a piece goes into the fire; left out where it is open."),
}


class StockMixin(MaterialMixin):
    """The bar a part starts from."""

    def add_stock(self, units: UnitSystem, stock: Mapping[str, Any], material: Any) -> None:
        """Add the fields of a bar."""
        self.fields["section"] = section_field(
            units,
            stock.get("section"),
            label="Section",
            help_text="20 sq, ø12, 30 x 8, 20 hex or oct 14",
            required=True,
            error_messages={"required": "Say what bar it starts from, such as 20 sq or 30 x 8."},
        )
        self.fields["length"] = length_field(
            units,
            stock.get("length"),
            zero_ok=False,
            label="Length",
            required=True,
            error_messages={"required": "Say how long the bar is."},
        )
        self.add_material(units, material)

    @property
    def stock(self) -> dict[str, Any]:
        """The stored form of the bar."""
        return {"section": self.cleaned_data["section"], "length": self.cleaned_data["length"]}


class NewProcedureForm(StockMixin):
    """A new procedure: its title, and the bar of its first part."""

    title = forms.CharField(
        label="Title", max_length=120, help_text="What is made, such as “Hook for a gate”."
    )
    part = forms.CharField(
        label="The part is called",
        max_length=60,
        initial="Bar",
        help_text="One word, such as hook. More parts can be added later.",
    )

    def __init__(self, units: UnitSystem, data: Any = None) -> None:
        super().__init__(data)
        self.add_stock(units, {}, "mild_steel")


class NewPartForm(StockMixin):
    """One more part of a procedure."""

    name = forms.CharField(label="Name", max_length=60, help_text="One word, such as ring.")

    def __init__(self, units: UnitSystem, data: Any = None) -> None:
        super().__init__(data)
        self.add_stock(units, {}, "mild_steel")


class PartForm(StockMixin):
    """The name, quantity and bar of a part."""

    name = forms.CharField(label="Name", max_length=60)
    quantity = forms.IntegerField(label="How many are made", min_value=1, max_value=999)

    def __init__(self, units: UnitSystem, part: Mapping[str, Any], data: Any = None) -> None:
        initial = {"name": part["name"], "quantity": part.get("quantity", 1)}
        super().__init__(data, initial=initial)
        self.add_stock(units, part["stock"], part.get("material", "mild_steel"))
        self.fields["name"].widget.attrs.update(quiet())

    @property
    def fields_to_store(self) -> dict[str, Any]:
        """What actions.edit_part takes."""
        kept = {key: self.cleaned_data[key] for key in ("name", "quantity", "material")}
        return {**kept, "stock": self.stock}


class DetailsForm(forms.Form):
    """What is said of a procedure as a whole."""

    title = forms.CharField(label="Title", max_length=120)
    summary = forms.CharField(
        label="Summary",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What it is, what it is for, and what it teaches.",
    )
    level = forms.ChoiceField(label="Level", choices=list(LEVELS.items()), widget=forms.RadioSelect)
    credits = forms.CharField(
        label="Credits",
        required=False,
        max_length=5000,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="One name a line: whose design, whose teaching, whose piece.",
    )
    licence = forms.ChoiceField(label="Licence", choices=list(LICENCES.items()))
    fire = forms.ChoiceField(
        label="Fire",
        choices=FIRE_CHOICES,
        help_text="How much of the metal the fire takes: the scale of each heat is reckoned from it.",
    )

    def __init__(self, units: UnitSystem, document: Mapping[str, Any], data: Any = None) -> None:
        scale = document.get("scale", {})
        initial = {key: document.get(key, "") for key in ("title", "summary")}
        initial |= {
            "level": document.get("level", "beginner"),
            "licence": document.get("licence", "CC-BY-4.0"),
            "credits": "\n".join(document.get("credits", [])),
            "fire": scale.get("fire", "average"),
        }
        super().__init__(data, initial=initial)
        self.units = units
        for key, (label, help_text) in OWN_FIRE.items():
            self.fields[key] = length_field(units, scale.get(key), label=label, help_text=help_text)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        for key, kind in FIRE_LENGTHS.items():
            value = cleaned.get(key)
            if value is not None and not (kind.least or 0) <= value <= (kind.most or value):
                least, most = (self.units.length(one or 0) for one in (kind.least, kind.most))
                self.add_error(key, f"{kind.label} is at least {least} and at most {most}.")
        lines = [one.strip() for one in (cleaned.get("credits") or "").splitlines() if one.strip()]
        too_long = next((one for one in lines if len(one) > 120), None)
        if too_long:
            self.add_error(
                "credits", f"“{too_long[:30]}…” has {len(too_long)} letters; a line has at most 120."
            )
        if len(lines) > 40:
            self.add_error("credits", f"There are {len(lines)} lines; at most 40 are kept.")
        self.credit_lines = lines
        return cleaned

    @property
    def details(self) -> dict[str, Any]:
        """What actions.edit_details takes."""
        kept = self.cleaned_data
        lengths = {key: kept[key] for key in FIRE_LENGTHS if kept[key] is not None}
        return {
            "title": kept["title"],
            "summary": kept["summary"].replace("\r\n", "\n"),
            "level": kept["level"],
            "licence": kept["licence"],
            "credits": self.credit_lines,
            "scale": {"fire": kept["fire"], **lengths},
        }


class PhotoForm(forms.Form):
    """A photo to be put to a step."""

    file = forms.FileField(
        label="Photo", help_text="JPEG, PNG or WebP, up to 20 MB. Its place and date are taken out."
    )
    alt = forms.CharField(
        label="What it shows",
        max_length=300,
        help_text="For who cannot see it: “The end bent over the horn, at orange heat.”",
    )
    caption = forms.CharField(label="Caption", required=False, max_length=300)
    credit = forms.CharField(label="Who took it", required=False, max_length=CREDIT_LIMIT)
    of_original = forms.BooleanField(
        label="It shows the original that is reproduced",
        required=False,
        help_text="Then it is published only with its owner's permission.",
    )


class PhotoWordsForm(forms.Form):
    """What is said of a photo."""

    alt = forms.CharField(label="What it shows", max_length=300)
    caption = forms.CharField(label="Caption", required=False, max_length=300)
    credit = forms.CharField(label="Who took it", required=False, max_length=CREDIT_LIMIT)
    of_original = forms.BooleanField(label="It shows the original", required=False)


class DocumentFileForm(forms.Form):
    """A procedure's document, or a package of several, to be taken in."""

    file = forms.FileField(
        label="File",
        help_text="A zip with its photos or a document, as they are taken away here. Each procedure in it "
        "becomes a draft of yours.",
        widget=forms.ClearableFileInput(attrs={"accept": ".zip,.json"}),
    )
