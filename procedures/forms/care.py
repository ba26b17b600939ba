"""Forms of care: a report, and what moderators say with what they do."""

from __future__ import annotations

from typing import Any

from django import forms

from procedures.models import Report
from procedures.models.care import WORDS_LIMIT

FOR_GOOD = "good"
LENGTHS = (
    ("1", "1 day"),
    ("3", "3 days"),
    ("7", "A week"),
    ("30", "30 days"),
    ("90", "90 days"),
    (FOR_GOOD, "For good"),
)


class ReportForm(forms.Form):
    """A report. `website` is for machines alone: people do not see it."""

    reason = forms.ChoiceField(
        label="What is wrong",
        choices=Report.Reason.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what is wrong with it."},
    )
    words = forms.CharField(
        label="In your words",
        required=False,
        max_length=WORDS_LIMIT,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="Which step, which photo, what could happen, whose it is: what helps to judge it.",
    )
    website = forms.CharField(label="Leave this empty", required=False, max_length=200)

    def clean(self) -> dict[str, Any]:
        """Return the answers; "something else" has to be said in words."""
        cleaned: dict[str, Any] = super().clean() or {}
        if cleaned.get("reason") == Report.Reason.OTHER and not cleaned.get("words"):
            self.add_error("words", "Say in a few words what is wrong.")
        return cleaned

    @property
    def is_by_machine(self) -> bool:
        """Whether something filled in what people do not see."""
        return bool(self.cleaned_data.get("website"))


class WhyForm(forms.Form):
    """Why something is done, for the log and for whom it is about."""

    why = forms.CharField(
        label="Why",
        max_length=500,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": "Say why: it stands in the log."},
    )


class HideForm(WhyForm):
    """Why a thing is hidden; its author reads it."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["why"].label = "Why it is hidden"
        self.fields["why"].help_text = "Its author reads this."


class WarnForm(forms.Form):
    """A warning in words."""

    words = forms.CharField(
        label="The warning",
        max_length=WORDS_LIMIT,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="The person reads it before they write anything more.",
        error_messages={"required": "A warning is said in words."},
    )


class BlockForm(WhyForm):
    """For how long, and why, a person may not write."""

    days = forms.ChoiceField(label="For how long", choices=LENGTHS, initial="7")
    field_order = ("days", "why")

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["why"].label = "Why they may not write"
        self.fields["why"].help_text = "The person reads this, with the time it ends."

    @property
    def length(self) -> int | None:
        """How many days; None for good."""
        days: str = self.cleaned_data["days"]
        return None if days == FOR_GOOD else int(days)
