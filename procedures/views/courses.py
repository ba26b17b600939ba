"""Classes: opened by a teacher, joined by a code, and watched as they forge."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions
from procedures.access import MemberRequest, anyone, course_teacher, procedure_reader
from procedures.actions import Refused
from procedures.forms.course import CourseForm, JoinForm
from procedures.limits import consume, limited, too_often
from procedures.middleware import ReaderRequest
from procedures.models import Course, Procedure
from procedures.presenting.board import Board, board
from procedures.printing.card import qr_svg
from procedures.queries import runs as run_queries

from .following import run_of, shop_address
from .wanted import Wanted

HTML = "procedures/courses/"


@procedure_reader
@require_http_methods(["GET", "HEAD", "POST"])
@limited("create")
def open_course(request: ReaderRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it and is signed in: have a class work by what is published."""
    if not request.user.is_authenticated:
        return redirect(f"{reverse('account_login')}?next={request.path}")
    form = CourseForm(run_queries.open_courses(request.user), request.POST or None, title=procedure.title)
    if request.method == "POST" and form.is_valid():
        course, title = form.cleaned_data.get("course"), form.cleaned_data["title"]
        try:
            if course:
                actions.assign(course=course, procedure=procedure, by=request.user)
            else:
                course = actions.open_course(procedure=procedure, title=title, by=request.user)
        except Refused as refused:
            form.add_error(None, str(refused))
        else:
            return redirect(course)
    status = 422 if form.errors else 200
    return render(request, HTML + "open.html", {"procedure": procedure, "form": form}, status=status)


@course_teacher
@require_safe
def course(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: who is at which step, who waits at which gate, whose measure is off."""
    context = {"course": course, "board": _board(request, course)}
    if request.htmx:
        return render(request, HTML + "_board.html", context)
    join_at = request.build_absolute_uri(reverse("procedures:join")) + f"?code={course.code}"
    context |= {"join": join_at, "qr": qr_svg(join_at), "days": course.days.all()}
    return render(request, HTML + "page.html", context)


def _board(request: MemberRequest, course: Course) -> Board:
    return board(run_queries.assignments(course), run_queries.runs_of(course), request.units)


@course_teacher
@require_POST
def sign_gate(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: let a student go on past a gate."""
    asked_by = run_queries.uuid_or_none(request.POST.get("run"))
    run = course.runs.filter(pk=asked_by).first() if asked_by else None
    part, step = request.POST.get("part", ""), request.POST.get("step", "")
    asked = run_queries.gate_asked(run, part, step) if run else None
    if run is None or asked is None:
        messages.error(request, "That student or gate is no longer there.")
    else:
        actions.sign_gate(run=run, part=asked.part, step=asked.step, number=asked.number, by=request.user)
    if request.htmx:
        context = {"course": course, "board": _board(request, course)}
        return render(request, HTML + "_board.html", context)
    return redirect(course)


@course_teacher
@require_POST
def end_course(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: let nobody else join."""
    actions.end_course(course=course, by=request.user)
    return redirect(course)


@course_teacher
@require_http_methods(["GET", "HEAD", "POST"])
def delete_course(request: MemberRequest, course: Course) -> HttpResponse:
    """Its teacher: delete a class with what was sent to it, after being asked once more."""
    if request.method == "POST":
        actions.delete_course(course=course, by=request.user)
        messages.success(request, "The class was deleted.")
        return redirect("procedures:runs")
    context = {
        "heading": f"Delete the class {course.title}?",
        "text": "The runs that were sent to it go too, but for those that belong to an account.",
        "action_url": reverse("procedures:delete_course", args=[course.pk]),
        "action": "Delete the class",
        "cancel_url": course.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)


@anyone
@require_safe
def join(request: ReaderRequest) -> HttpResponse:
    """Who has the code of an open class: take part, by a name that one types."""
    form = JoinForm(request.GET or None)
    if form.is_bound and not consume(request, action="join"):
        return too_often(request)
    course = form.course if form.is_bound and form.is_valid() else None
    if course is None:
        return render(request, HTML + "join.html", {"form": form}, status=422 if form.errors else 200)
    assigned = list(run_queries.assignments(course))
    asked = request.GET.get("p") if len(assigned) > 1 else None
    chosen = assigned if len(assigned) == 1 else [one for one in assigned if one.procedure.slug == asked]
    if not chosen:
        context = {"course": course, "assigned": assigned, "days": course.days.all()}
        return render(request, HTML + "assigned.html", context)
    wanted = Wanted(chosen[0].procedure, chosen[0].revision, request.units, nominal=False)
    context = {"course": course, "run_of": run_of(wanted), "address": shop_address(wanted), "wanted": wanted}
    return render(request, HTML + "joined.html", {**context, "due": chosen[0].due})
