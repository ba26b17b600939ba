"""The form of deleting an account."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.models import AbstractBaseUser

from procedures.exchange.account import LEFT, Leaving

KEEP, DELETE = "keep", "delete"


class LeavingForm(forms.Form):
    """What becomes of what is published and of one's name elsewhere; and the password, once more."""

    published = forms.ChoiceField(
        label="What you published",
        choices=[
            (KEEP, f"Leave it to its readers, by “{LEFT}”"),
            (DELETE, "Withdraw it and delete it: its addresses lead nowhere then"),
        ],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what becomes of what you published."},
    )
    name_out = forms.BooleanField(
        label="Take my name out of others’ work, too",
        required=False,
        help_text=f"What they adapted or took over from you credits “{LEFT}” then. What they wrote about you "
        "themselves is theirs.",
    )
    password = forms.CharField(
        label="Your password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
        error_messages={"required": "Type your password, so that nobody else can do this."},
    )

    def __init__(self, person: AbstractBaseUser, data: Any = None, *, has_published: bool = True) -> None:
        super().__init__(data)
        self.person = person
        if not has_published:
            del self.fields["published"]

    def clean_password(self) -> str:
        """Refuse a password that is not the person's."""
        password: str = self.cleaned_data["password"]
        if not self.person.check_password(password):
            raise forms.ValidationError("This is not your password.")
        return password

    @property
    def leaving(self) -> Leaving:
        """What was decided."""
        return Leaving(
            keep_published=self.cleaned_data.get("published") == KEEP,
            name_out=self.cleaned_data["name_out"],
        )
