"""Classes: opened by a teacher for one revision of a procedure, ended, and deleted."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from procedures.models import Course, Procedure

from .runs import forget_pictures
from .saving import Refused

MOST_OPEN = 30  # classes of one teacher


@transaction.atomic
def open_course(*, procedure: Procedure, title: str, by: AbstractBaseUser) -> Course:
    """Open a class that works by the latest revision of a public procedure. Raises Refused."""
    if procedure.latest is None or not procedure.is_public:
        raise Refused("Publish the procedure first: a class works by what stands still.")
    if Course.objects.filter(teacher_id=by.pk, ended=None).count() >= MOST_OPEN:
        raise Refused(f"You have {MOST_OPEN} classes open. End one first.")
    return Course.objects.create(
        procedure=procedure, revision=procedure.latest, title=title, teacher_id=by.pk
    )


def end_course(*, course: Course, by: AbstractBaseUser) -> None:
    """Let nobody else join; who is in it may still send what the phone has."""
    if course.ended is None:
        course.ended = timezone.now()
        course.save(update_fields=["ended"])


@transaction.atomic
def delete_course(*, course: Course, by: AbstractBaseUser) -> None:
    """Delete a class. Runs that belong to an account stay with it; the others go."""
    nobodys = course.runs.filter(owner=None)
    forget_pictures(nobodys)
    nobodys.delete()
    course.runs.update(course=None)
    course.delete()
