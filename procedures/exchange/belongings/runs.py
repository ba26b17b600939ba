"""Runs at the anvil with their photos, and classes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.contrib.auth.models import AbstractBaseUser

from procedures import actions
from procedures.exchange.account import Belongings, Gathered, Leaving, as_json, from_store
from procedures.exchange.counting import counted
from procedures.models import Course, Run, RunPhoto
from procedures.queries.runs import whole_run


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield the log and the photos of each run, and the classes without what their students made."""
    for run in Run.objects.filter(owner_id=person.pk).select_related("procedure", "revision"):
        yield as_json(f"runs/{run.pk}/run.json", whole_run(run))
        for photo in RunPhoto.objects.filter(entry__run=run):
            yield from from_store(f"runs/{run.pk}/{photo.entry_id}.jpg", photo)
    classes = [_class(one) for one in Course.objects.filter(teacher_id=person.pk)]
    if classes:
        yield as_json("classes.json", classes)


def _class(one: Course) -> dict[str, Any]:
    assigned = one.assignments.select_related("procedure", "revision")
    return {
        "title": one.title,
        "begun": one.begun.isoformat(),
        "ended": one.ended.isoformat() if one.ended else None,
        "days": [{"day": day.day.isoformat(), "words": day.words} for day in one.days.all()],
        "procedures": [
            {
                "procedure": each.procedure.slug,
                "revision": each.revision.number,
                "begins": each.begins.isoformat() if each.begins else None,
                "due": each.due.isoformat() if each.due else None,
            }
            for each in assigned
        ],
    }


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    yield from counted(Run.objects.filter(owner_id=person.pk).count(), "run", "with its log and photos")
    classes = Course.objects.filter(teacher_id=person.pk).count()
    if classes:
        yield f"{classes} class{'es' * (classes != 1)} you teach, with what students sent without an account"


def erase(person: AbstractBaseUser, leaving: Leaving) -> None:
    """Delete the person's classes and runs with their photos; runs of students who have accounts stay."""
    for course in Course.objects.filter(teacher_id=person.pk):
        actions.delete_course(course=course, by=person)
    for run in Run.objects.filter(owner_id=person.pk):
        actions.delete_run(run=run, by=person)


BELONGINGS = Belongings(
    title="Runs and classes",
    fields={
        "procedures.Run.owner": "deleted",
        "procedures.Course.teacher": "deleted",
        "procedures.RunEntry.by": "unnamed",
    },
    gather=gather,
    told=told,
    erase=erase,
)
