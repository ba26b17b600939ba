"""Forms of sharing: what changed, why something is withdrawn."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from procedures.models import Guild, Procedure

Status = Procedure.Status


class PublishForm(forms.Form):
    """What is said of a revision as it is published, and who reads it."""

    readers = forms.ChoiceField(label="Who reads it", widget=forms.RadioSelect)
    note = forms.CharField(
        label="What changed",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="For those who read the one before: what is better, and why.",
    )

    def __init__(self, procedure: Procedure, guilds: Iterable[Guild], data: Any = None) -> None:
        so_far = f"guild-{procedure.guild_id}" if procedure.status == Status.GUILD else procedure.status
        so_far = so_far if procedure.is_published else Status.PUBLIC
        if data is not None:
            data = {"readers": so_far, **data.dict()}  # who says nothing of it changes nothing of it
        super().__init__(data, initial={"readers": so_far})
        self.guilds = {f"guild-{one.pk}": one for one in guilds}
        readers = self.fields["readers"]
        assert isinstance(readers, forms.ChoiceField)
        readers.choices = [
            (Status.PUBLIC, "Everybody: it is listed and found"),
            (Status.UNLISTED, "Who has its address: it stands in no list"),
            *((key, f"The guild {one.name} alone") for key, one in self.guilds.items()),
        ]

    @property
    def audience(self) -> dict[str, Any]:
        """What actions.publish takes: who reads it."""
        chosen = self.cleaned_data["readers"]
        guild = self.guilds.get(chosen)
        return {"status": Status.GUILD if guild else chosen, "guild": guild}


class WithdrawForm(forms.Form):
    """Why something is taken back from its readers."""

    reason = forms.CharField(
        label="Why",
        max_length=500,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="It stands in its place from now on, for whoever follows a link or a citation.",
        error_messages={"required": "Say why: somebody may have worked by it."},
    )

    def __init__(self, data: Any = None) -> None:
        super().__init__(data)


class OfferForm(forms.Form):
    """What is said to the author of the original with what is offered."""

    note = forms.CharField(
        label="To the author",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What you changed, why, and how it went when you tried it.",
        error_messages={"required": "Say what you changed and why: the author decides by it."},
    )

    def __init__(self, data: Any = None) -> None:
        super().__init__(data)
