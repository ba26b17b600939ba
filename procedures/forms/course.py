"""Forms of classes: opening one, and joining one by its code."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet

from procedures.models import Assignment, Course
from procedures.models.course import CODE_LENGTH


class CourseForm(forms.Form):
    """A new class and what it is called, or one of the teacher's that gets one more procedure."""

    course = forms.ModelChoiceField(
        Course.objects.none(), label="For which class", required=False, empty_label="A new one"
    )
    title = forms.CharField(
        label="Name of the class",
        max_length=120,
        required=False,
        help_text="Students see it when they join: Tuesday evening, first hooks.",
    )

    def __init__(self, courses: QuerySet[Course], data: Any = None, title: str = "") -> None:
        super().__init__(data, initial={"title": title})
        known = self.fields["course"]
        assert isinstance(known, forms.ModelChoiceField)
        known.queryset = courses
        if not courses.exists():
            del self.fields["course"]
            self.fields["title"].required = True
            self.fields["title"].error_messages["required"] = "Give the class a name."

    def clean(self) -> dict[str, Any]:
        """Ask for a name where the class is a new one."""
        cleaned = super().clean() or {}
        if not cleaned.get("course") and not cleaned.get("title") and "title" not in self.errors:
            self.add_error("title", "Give the class a name.")
        return cleaned


def _date(label: str, help_text: str = "", *, required: bool = False) -> forms.DateField:
    return forms.DateField(
        label=label,
        help_text=help_text,
        required=required,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "A date is a day, a month and a year, such as 2027-03-09."},
    )


class DatesForm(forms.Form):
    """From when a class works by a procedure, and by when it is done."""

    begins = _date("Set for")
    due = _date("Due")

    def __init__(self, assignment: Assignment, data: Any = None) -> None:
        initial = {"begins": assignment.begins, "due": assignment.due}
        super().__init__(data, initial=initial, auto_id=f"assigned-{assignment.pk}-%s")

    def clean(self) -> dict[str, Any]:
        """Refuse what is due before it begins."""
        cleaned = super().clean() or {}
        begins, due = cleaned.get("begins"), cleaned.get("due")
        if begins and due and due < begins:
            self.add_error("due", "It cannot be due before it is set.")
        return cleaned


class DayForm(forms.Form):
    """A day on which the class meets."""

    day = _date("Day", required=True)
    words = forms.CharField(label="What is done then", max_length=200, required=False)


class ForgettingForm(forms.Form):
    """How long a class is remembered after its end."""

    days = forms.IntegerField(
        label="Days after its end",
        min_value=0,
        max_value=730,
        error_messages={
            "required": "Say after how many days.",
            "max_value": "Two years, 730 days, is the longest that students' names and logs are kept.",
        },
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
        found = Course.objects.filter(code=code[:CODE_LENGTH]).first()
        if found is None or len(code) != CODE_LENGTH:
            raise forms.ValidationError("There is no class by this code. Look at it once more.")
        if found.ended:
            raise forms.ValidationError("This class has ended; nobody else joins it.")
        self.course = found
        return code
