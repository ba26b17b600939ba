"""Forms of sharing: what changed, why something is withdrawn."""

from __future__ import annotations

from typing import Any

from django import forms


class PublishForm(forms.Form):
    """What is said of a revision as it is published."""

    note = forms.CharField(
        label="What changed",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="For those who read the one before: what is better, and why.",
    )


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
