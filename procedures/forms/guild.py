"""Forms of guilds: founding one, its house profile, coming in, roles, what stands on its shelf."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet

from calculators.wording import UNIT_SYSTEMS
from procedures.engine.catalogue import catalogue
from procedures.engine.scale import FIRES
from procedures.models import Guild, Membership, Procedure

OPERATION = "operation:"
MOST_TONGS = 60
Role = Membership.Role
ROLE_WORDS = {
    Role.MEMBER: "Member: reads what is for the guild",
    Role.EDITOR: "Editor: works at the drafts on the shelf too",
    Role.KEEPER: "Keeper: publishes and withdraws them, lets others in and sends them away",
}


class FoundForm(forms.Form):
    """The name of a new guild."""

    name = forms.CharField(
        label="Name of the guild",
        max_length=80,
        help_text="Such as “Smiths of the lower valley”.",
        error_messages={"required": "Give the guild a name."},
    )

    def clean_name(self) -> str:
        """Want a name that can be read."""
        name = " ".join(self.cleaned_data["name"].split())
        if not any(one.isalnum() for one in name):
            raise forms.ValidationError("A name has letters in it.")
        return name


def _text(label: str, most: int, help_text: str = "", rows: int = 3) -> forms.CharField:
    return forms.CharField(
        label=label,
        required=False,
        max_length=most,
        help_text=help_text,
        widget=forms.Textarea(attrs={"rows": rows}),
    )


class ProfileForm(FoundForm):
    """The house profile."""

    about = _text("About the guild", 4000, "Who you are, what you forge, when you meet. Markdown.", rows=6)
    listed = forms.BooleanField(
        label="Others may find the guild and ask to be let in",
        required=False,
        help_text="Unticked, only members see its page, and one comes in by invitation alone.",
    )
    place = forms.CharField(label="Place", max_length=120, required=False)
    shop = _text("The shop", 1000, "Hearths, hammers, what there is to work with.")
    units = forms.ChoiceField(
        label="Units",
        required=False,
        choices=[("", "Each reads as they like"), *((one.id, one.title) for one in UNIT_SYSTEMS.values())],
        help_text="What somebody reads in from coming in, who chose none before.",
    )
    fire = forms.ChoiceField(
        label="Fire",
        choices=[(key, one.title) for key, one in FIRES.items()],
        help_text="The scale of a new procedure on the shelf is reckoned from it.",
    )
    tongs = _text("What your tongs are called", 5000, "A name a line: they are offered at each step.", rows=4)

    def __init__(self, guild: Guild, data: Any = None) -> None:
        names = ("name", "about", "listed", "place", "shop", "units", "fire")
        initial = {name: getattr(guild, name) for name in names}
        super().__init__(data, initial={**initial, "tongs": "\n".join(guild.tongs)})

    def clean_tongs(self) -> list[str]:
        """Return the names, each once."""
        lines = [" ".join(one.split()) for one in self.cleaned_data["tongs"].splitlines()]
        names = list(dict.fromkeys(one for one in lines if one))
        if len(names) > MOST_TONGS:
            raise forms.ValidationError(f"There are {len(names)} names; at most {MOST_TONGS} are kept.")
        too_long = next((one for one in names if len(one) > 80), None)
        if too_long:
            raise forms.ValidationError(
                f"“{too_long[:30]}…” has {len(too_long)} letters; a name has at most 80."
            )
        return names


def things() -> dict[str, str]:
    """Return what a guild may have its own name for, with the site's: all tools, then all operations."""
    kinds = catalogue().values()
    tools = sorted({tool for one in kinds for tool in (*one.tools, *one.power_tools)}, key=str.casefold)
    operations = {f"{OPERATION}{one.id}": one.title for one in kinds}
    return {**{one: one[:1].upper() + one[1:] for one in tools}, **operations}


class ToolNameForm(forms.Form):
    """What the guild calls a tool or an operation."""

    thing = forms.ChoiceField(label="The site’s name")
    name = forms.CharField(
        label="The guild’s name", max_length=80, required=False, help_text="Left empty, it is let go."
    )

    def __init__(self, data: Any = None) -> None:
        super().__init__(data)
        known = self.fields["thing"]
        assert isinstance(known, forms.ChoiceField)
        named = things().items()
        known.choices = [
            ("Tools", [one for one in named if not one[0].startswith(OPERATION)]),
            ("Operations", [one for one in named if one[0].startswith(OPERATION)]),
        ]

    def clean_name(self) -> str:
        """Return it without room around it."""
        return " ".join(self.cleaned_data["name"].split())


class InviteForm(forms.Form):
    """An invitation: what it makes of who comes, and where it is sent."""

    role = forms.ChoiceField(
        label="They come in as",
        choices=[(one, ROLE_WORDS[one]) for one in (Role.MEMBER, Role.EDITOR)],
        initial=Role.MEMBER,
        widget=forms.RadioSelect,
    )
    email = forms.EmailField(
        label="Send the link by mail to",
        required=False,
        help_text="You get the link here in any case, to pass on as you like.",
    )


class AskForm(forms.Form):
    """What somebody says who asks to be let in."""

    words = forms.CharField(
        label="To the keepers",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Who you are, and who knows you.",
    )


class RoleForm(forms.Form):
    """What a member may do."""

    role = forms.ChoiceField(label="Role", choices=Role.choices)


class PeopleField(forms.ModelChoiceField):
    """Memberships to choose from, by the names of people."""

    def label_from_instance(self, obj: Any) -> str:
        """Return the name."""
        return str(obj.user.get_username())


class LeaveForm(forms.Form):
    """Who keeps the guild after its last keeper."""

    successor = PeopleField(
        Membership.objects.none(),
        label="Who keeps the guild after you",
        empty_label="Choose somebody",
        error_messages={"required": "A guild is never without a keeper: say who keeps it after you."},
    )

    def __init__(self, others: QuerySet[Membership], data: Any = None) -> None:
        super().__init__(data)
        known = self.fields["successor"]
        assert isinstance(known, forms.ModelChoiceField)
        known.queryset = others


class ShelfForm(forms.Form):
    """One of one's own procedures for the shelf."""

    procedure = forms.ModelChoiceField(
        Procedure.objects.none(),
        label="One of yours",
        to_field_name="slug",
        empty_label="Choose one",
        error_messages={"required": "Choose one of your procedures."},
    )

    def __init__(self, procedures: QuerySet[Procedure], data: Any = None) -> None:
        super().__init__(data)
        known = self.fields["procedure"]
        assert isinstance(known, forms.ModelChoiceField)
        known.queryset = procedures
