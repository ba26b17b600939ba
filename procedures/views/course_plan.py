"""What a class works by and when: procedures, dates, days, how long it is remembered, its handout."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.formats import date_format
from django.views.decorators.http import require_POST, require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures import actions
from procedures.access import MemberRequest, course_teacher
from procedures.actions import Refused
from procedures.forms.course import DatesForm, DayForm, ForgettingForm
from procedures.limits import limited
from procedures.models import Assignment, Course
from procedures.printing import SheetError
from procedures.printing.choices import choices_of
from procedures.printing.course import Course as PrintedCourse
from procedures.printing.handout import Entry, HandoutError, check_size, handout_pdf
from procedures.queries import runs as run_queries

from .printing import imprint_of, pdf_response, remembered
from .wanted import Wanted

HTML = "procedures/courses/"
STUDENTS = 8  # there is material for so many until somebody has joined


@course_teacher
@require_safe
def course_plan(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: what the class works by and when, and how long it is remembered."""
    return _page(request, course)


def _page(request: MemberRequest, course: Course, status: int = 200, **forms: Any) -> HttpResponse:
    wrong: DatesForm | None = forms.get("dates")
    rows = [
        (one, wrong if wrong and forms["assignment"] == one else DatesForm(one))
        for one in run_queries.assignments(course).select_related("procedure__latest")
    ]
    context = {
        "course": course,
        "rows": rows,
        "days": course.days.all(),
        "day_form": forms.get("day") or DayForm(),
        "forgetting": forms.get("forgetting") or ForgettingForm(initial={"days": course.forget_after}),
    }
    return render(request, HTML + "plan.html", context, status=status)


@course_teacher
@limited("create")
@require_POST
def assigned(request: MemberRequest, course: Course, assignment: int) -> HttpResponse:
    """Its teacher: set the dates of a procedure, move it, take its latest revision, or let it go."""
    found = run_queries.assignments(course).filter(pk=assignment).first()
    if found is None:
        raise Http404("There is no such procedure in this class.")
    form = DatesForm(found, request.POST)
    if "dates" in request.POST and not form.is_valid():
        return _page(request, course, 422, dates=form, assignment=found)
    try:
        _change(request, found, form)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("procedures:course_plan", course.pk)


def _change(request: MemberRequest, found: Assignment, form: DatesForm) -> None:
    changes: dict[str, Callable[[], Any]] = {
        "dates": lambda: actions.set_dates(assignment=found, by=request.user, **form.cleaned_data),
        "up": lambda: actions.move_assignment(assignment=found, by_places=-1, by=request.user),
        "down": lambda: actions.move_assignment(assignment=found, by_places=1, by=request.user),
        "latest": lambda: actions.assign_latest(assignment=found, by=request.user),
        "remove": lambda: actions.unassign(assignment=found, by=request.user),
    }
    for name, change in changes.items():
        if name in request.POST:
            change()


@course_teacher
@limited("create")
@require_POST
def course_days(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: say on which days the class meets."""
    given = request.POST.get("drop", "")
    if given.isascii() and given.isdigit() and len(given) < 10:
        actions.drop_day(course=course, day=int(given), by=request.user)
        return redirect("procedures:course_plan", course.pk)
    form = DayForm(request.POST)
    if form.is_valid():
        try:
            actions.add_day(course=course, by=request.user, **form.cleaned_data)
            return redirect("procedures:course_plan", course.pk)
        except Refused as refusal:
            form.add_error("day", str(refusal))
    return _page(request, course, 422, day=form)


@course_teacher
@limited("create")
@require_POST
def forget_course(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: say how long after its end the class is remembered."""
    form = ForgettingForm(request.POST)
    if not form.is_valid():
        return _page(request, course, 422, forgetting=form)
    actions.set_forgetting(course=course, days=form.cleaned_data["days"], by=request.user)
    messages.success(request, "Kept.")
    return redirect("procedures:course_plan", course.pk)


@course_teacher
@require_safe
def course_handout(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: the handout of all that is assigned, at the revisions the class works by, as PDF."""
    assigned = list(run_queries.assignments(course))
    try:
        chosen = choices_of({**remembered(request), **request.GET.dict()})
        units = UNIT_SYSTEMS[chosen.units] if chosen.units else request.units
        wanted = [Wanted(one.procedure, one.revision, units, nominal=False, pinned=True) for one in assigned]
        check_size(len(wanted), sum(len(part.get("steps", [])) for one in wanted for part in one.parts))
        made = handout_pdf(
            tuple(one.key("handout") for one in wanted),
            lambda: tuple(Entry(one.shown(chosen.sheet.room), imprint_of(request, one)) for one in wanted),
            _printed(request, course),
            chosen.sheet,
            units,
            replace(chosen.contents, part=""),
        )
    except (SheetError, HandoutError) as error:
        messages.error(request, str(error))
        return redirect("procedures:course_plan", course.pk)
    return pdf_response(request, made, "class-handout.pdf", chosen)


def _printed(request: MemberRequest, course: Course) -> PrintedCourse:
    students = course.runs.values("name").distinct().count() or STUDENTS
    first = course.days.first()
    return PrintedCourse(
        title=course.title,
        teacher=request.user.get_username(),
        date=date_format(first.day, "j F Y") if first else "",
        students=students,
        spare=-(-students // 10),
        at_once=students,
    )
