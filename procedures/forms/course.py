"""Forms of classes: opening one, and joining one by its code."""

from __future__ import annotations

from typing import Any

from django import forms

from procedures.models import Course
from procedures.models.run import CODE_LENGTH


class CourseForm(forms.Form):
    """What a class is called."""

    title = forms.CharField(
        label="Name of the class",
        max_length=120,
        help_text="Students see it when they join: Tuesday evening, first hooks.",
        error_messages={"required": "Give the class a name."},
    )


class JoinForm(forms.Form):
    """The code of an open class; `course` is the class once the form is valid."""

    code = forms.CharField(
        label="Code of the class",
        max_length=20,
        help_text="The teacher has it: six letters and digits.",
        error_messages={"required": "Type the code that the teacher shows."},
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters"}),
    )

    course: Course

    def clean_code(self) -> Any:
        """Find the class."""
        code = "".join(self.cleaned_data["code"].split()).upper()
        found = Course.objects.select_related("procedure", "revision").filter(code=code[:CODE_LENGTH]).first()
        if found is None or len(code) != CODE_LENGTH:
            raise forms.ValidationError("There is no class by this code. Look at it once more.")
        if found.ended:
            raise forms.ValidationError("This class has ended; nobody else joins it.")
        self.course = found
        return code
