"""Forms of talk: a question, an answer, a photo of a result."""

from __future__ import annotations

from typing import Any

from django import forms

from procedures.models.talk import WORDS_LIMIT


class WordsForm(forms.Form):
    """Words of one's own, in the site's Markdown."""

    words = forms.CharField(
        label="Your words",
        max_length=WORDS_LIMIT,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={"required": "Write something first."},
    )

    def __init__(self, data: Any = None, **more: Any) -> None:
        super().__init__(data, **more)


class QuestionForm(WordsForm):
    """A question on a step."""

    def __init__(self, data: Any = None, **more: Any) -> None:
        super().__init__(data, **more)
        self.fields["words"].label = "Your question"
        self.fields["words"].help_text = "Say what you tried, and what came of it. Your name stands with it."


class AnswerForm(WordsForm):
    """An answer to a question."""

    def __init__(self, data: Any = None, **more: Any) -> None:
        super().__init__(data, **more)
        self.fields["words"].label = "Your answer"
        self.fields[
            "words"
        ].help_text = (
            "The author may take it into the step, with credit to you, under the procedure’s licence."
        )


class ResultPhotoForm(forms.Form):
    """A photo of what was forged."""

    file = forms.FileField(
        label="Photo", help_text="JPEG, PNG or WebP, up to 20 MB. Its place and date are taken out."
    )
    alt = forms.CharField(
        label="What it shows",
        max_length=300,
        help_text="For who cannot see it: “The finished hook beside a rule.”",
        error_messages={"required": "Say in a few words what the photo shows."},
    )
    consent = forms.BooleanField(
        label="I took it, everybody may see it, and whoever is in it agreed to that",
        error_messages={"required": "Without this yes the photo is not taken."},
    )
