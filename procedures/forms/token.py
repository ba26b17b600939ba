"""The form that makes a token for a program."""

from __future__ import annotations

from typing import Any

from django import forms

LASTS = {"30": "30 days", "365": "A year", "": "Until I take it back"}


class TokenForm(forms.Form):
    """What a token is called, what it lets a program do, and how long."""

    name = forms.CharField(
        label="What is it for",
        max_length=80,
        help_text="So that you know which one to take back.",
        error_messages={"required": "Say what it is for."},
    )
    scope = forms.ChoiceField(
        label="What may it do",
        choices=[("read", "Read what I may read"), ("write", "Read, and write and publish my drafts")],
        initial="read",
        widget=forms.RadioSelect,
    )
    lasts = forms.ChoiceField(label="How long", choices=list(LASTS.items()), initial="365", required=False)

    def __init__(self, data: Any = None) -> None:
        super().__init__(data)

    @property
    def days(self) -> int | None:
        """How many days it lasts, or None for without end."""
        text = self.cleaned_data["lasts"]
        return int(text) if text else None
