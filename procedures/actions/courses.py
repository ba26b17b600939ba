"""Classes: opened by a teacher, given procedures that stand still, ended, and forgotten."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Max, Q
from django.utils import timezone

from procedures.models import Assignment, Course, CourseDay, Procedure

from .runs import forget_pictures
from .saving import Refused

MOST_OPEN = 30  # classes of one teacher
MOST_ASSIGNED = 20  # procedures of one class, as many as a handout holds
MOST_DAYS = 100  # of one class
SILENT = timedelta(days=180)  # after which a class that nobody ended is taken to be over


@transaction.atomic
def open_course(*, procedure: Procedure, title: str, by: AbstractBaseUser) -> Course:
    """Open a class that works by the latest revision of a procedure that is open to all. Raises Refused."""
    if Course.objects.filter(teacher_id=by.pk, ended=None).count() >= MOST_OPEN:
        raise Refused(f"You have {MOST_OPEN} classes open. End one first.")
    course = Course.objects.create(title=title, teacher_id=by.pk)
    assign(course=course, procedure=procedure, by=by)
    return course


@transaction.atomic
def assign(*, course: Course, procedure: Procedure, by: AbstractBaseUser) -> Assignment:
    """Give a class one more procedure, as it is published now, at the end of what it has. Raises Refused."""
    if procedure.latest is None or not procedure.is_published:
        raise Refused("Publish the procedure first: a class works by what stands still.")
    if not procedure.is_open:
        raise Refused(
            "Only its guild reads it, and students have no account. Publish it for who has its address first."
        )
    known = course.assignments.select_for_update()
    if known.filter(procedure=procedure).exists():
        raise Refused(f"{course.title} works by it already.")
    if known.count() >= MOST_ASSIGNED:
        raise Refused(f"A class has at most {MOST_ASSIGNED} procedures.")
    last = known.aggregate(last=Max("place"))["last"] or 0
    return Assignment.objects.create(
        course=course, procedure=procedure, revision=procedure.latest, place=last + 1
    )


def set_dates(
    *, assignment: Assignment, begins: date | None, due: date | None, by: AbstractBaseUser
) -> Assignment:
    """Say from when a class works by a procedure, and by when it is done."""
    assignment.begins, assignment.due = begins, due
    assignment.save(update_fields=("begins", "due"))
    return assignment


@transaction.atomic
def move_assignment(*, assignment: Assignment, by_places: int, by: AbstractBaseUser) -> None:
    """Change places with the one before (-1) or after (1), if there is one."""
    order = list(assignment.course.assignments.select_for_update())
    at = order.index(assignment)
    to = at + by_places
    if 0 <= to < len(order):
        order[at], order[to] = order[to], order[at]
        for place, one in enumerate(order, 1):
            one.place = place
        Assignment.objects.bulk_update(order, ("place",))


@transaction.atomic
def assign_latest(*, assignment: Assignment, by: AbstractBaseUser) -> Assignment:
    """Work by the latest revision from now on. Raises Refused where somebody has begun by the other."""
    procedure = assignment.procedure
    _refuse_begun(assignment, "It stays at the revision they began by.")
    if procedure.latest is None or not procedure.is_open:
        raise Refused("Nothing newer of it is published.")
    assignment.revision = procedure.latest
    assignment.save(update_fields=("revision",))
    return assignment


@transaction.atomic
def unassign(*, assignment: Assignment, by: AbstractBaseUser) -> None:
    """Take a procedure from a class. Raises Refused where somebody has begun it, and for the only one."""
    _refuse_begun(assignment, "Their work stands on it.")
    if assignment.course.assignments.count() == 1:
        raise Refused("It is the only one: a class works by something.")
    assignment.delete()


def _refuse_begun(assignment: Assignment, why: str) -> None:
    begun = assignment.course.runs.filter(procedure=assignment.procedure_id).count()
    if begun:
        raise Refused(f"{begun} {'have' if begun > 1 else 'has'} begun it. {why}")


@transaction.atomic
def add_day(*, course: Course, day: date, words: str, by: AbstractBaseUser) -> CourseDay:
    """Say that a class meets on a day; said again, what is done then is replaced. Raises Refused."""
    if course.days.exclude(day=day).count() >= MOST_DAYS:
        raise Refused(f"A class meets on at most {MOST_DAYS} days.")
    return CourseDay.objects.update_or_create(course=course, day=day, defaults={"words": words})[0]


def drop_day(*, course: Course, day: int, by: AbstractBaseUser) -> None:
    """Let a day of a class go."""
    course.days.filter(pk=day).delete()


def set_forgetting(*, course: Course, days: int, by: AbstractBaseUser) -> Course:
    """Say how many days after its end a class is deleted with what its students sent."""
    course.forget_after = days
    course.save(update_fields=("forget_after",))
    return course


def end_course(*, course: Course, by: AbstractBaseUser) -> None:
    """Let nobody else join; who is in it may still send what the phone has."""
    if course.ended is None:
        course.ended = timezone.now()
        course.save(update_fields=["ended"])


@transaction.atomic
def delete_course(*, course: Course, by: AbstractBaseUser | None = None) -> None:
    """Delete a class. Runs that belong to an account stay with it; the others go."""
    nobodys = course.runs.filter(owner=None)
    forget_pictures(nobodys)
    nobodys.delete()
    course.runs.update(course=None)
    course.delete()


def forget_courses(*, now: datetime) -> int:
    """Delete the classes whose time is up, and return how many; end those that went silent long ago."""
    before = now - SILENT
    heard = Q(runs__received__gte=before) | Q(runs__entries__received__gte=before)
    planned = Q(days__day__gte=before.date()) | Q(assignments__due__gte=before.date())
    old = Course.objects.filter(ended=None, begun__lt=before)
    old.exclude(pk__in=Course.objects.filter(heard | planned).values("pk")).update(ended=now)
    ended = Course.objects.filter(ended__isnull=False)
    over = [one for one in ended if one.ended and one.ended + timedelta(days=one.forget_after) <= now]
    for one in over:
        delete_course(course=one)
    return len(over)
