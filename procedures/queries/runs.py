"""What is read of runs and classes, and as whom."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Count, QuerySet

from procedures.models import Assignment, Course, Run, RunEntry


def own_runs(user: AbstractBaseUser | AnonymousUser) -> QuerySet[Run]:
    """Return the runs of a user, those sent last first."""
    return Run.objects.filter(owner_id=user.pk).select_related("procedure", "course")


def own_courses(user: AbstractBaseUser | AnonymousUser) -> QuerySet[Course]:
    """Return the classes that a user teaches, with how many take part."""
    found = Course.objects.filter(teacher_id=user.pk).annotate(students=Count("runs"))
    return found.prefetch_related("assignments__revision")


def open_courses(user: AbstractBaseUser | AnonymousUser) -> QuerySet[Course]:
    """Return the classes of a teacher that can still be joined."""
    return Course.objects.filter(teacher_id=user.pk, ended=None)


def assignments(course: Course) -> QuerySet[Assignment]:
    """Return what is assigned to a class, in order."""
    return course.assignments.select_related("procedure__owner", "procedure__writer", "revision").defer(
        "procedure__document"
    )


def runs_of(course: Course) -> QuerySet[Run]:
    """Return the runs of a class with their logs, the first to arrive first."""
    return course.runs.prefetch_related("entries").order_by("received")


def gates_signed(run: Run) -> list[dict[str, Any]]:
    """Return the gates of a run that are signed, and by whom."""
    return [
        {"part": one.part, "step": one.step, "by": one.by.get_username() if one.by else ""}
        for one in run.entries.filter(kind="gate").select_related("by")
    ]


def gate_asked(run: Run, part: str, step: str) -> RunEntry | None:
    """Return the entry by which a student asked the teacher to look at a step, or None."""
    return run.entries.filter(kind="gate_asked", part=part, step=step).first()


def uuid_or_none(text: str | None) -> UUID | None:
    """Return the id that a text says, or None."""
    try:
        return UUID(text or "")
    except ValueError:
        return None


def whole_run(run: Run) -> dict[str, Any]:
    """Return all that is kept of a run, as plain values: the form it is taken away in."""
    return {
        "format": "forgesite.run",
        "version": 1,
        "id": str(run.pk),
        "procedure": run.procedure.slug,
        "title": run.procedure.title,
        "revision": run.revision.number if run.revision else None,
        "units": run.units,
        "nominal": run.nominal,
        "name": run.name,
        "started": run.started.isoformat(),
        "ended": run.ended,
        "entries": [
            {
                "id": str(one.pk),
                "n": one.n,
                "kind": one.kind,
                "part": one.part,
                "step": one.step,
                "number": one.number,
                "at": one.at.isoformat(),
                **one.data,
            }
            for one in run.entries.all()
        ],
    }
