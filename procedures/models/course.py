"""Classes: what is assigned to them, on which days they meet, and how long they are remembered."""

from __future__ import annotations

import secrets
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.urls import reverse

from .procedure import Procedure, Revision

LETTERS = "ACDEFGHJKLMNPQRTUVWXY34679"  # none that is taken for another when read across a shop
CODE_LENGTH = 6
FORGOTTEN_AFTER = 90  # days from the end of a class, unless its teacher says otherwise


def new_code() -> str:
    """Return a code to join a class by."""
    return "".join(secrets.choice(LETTERS) for _ in range(CODE_LENGTH))


class Course(models.Model):
    """A class. Students join by its code while it is open; `forget_after` days after its end it goes."""

    id = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    teacher = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="courses")
    title = models.CharField(max_length=120)
    code = models.CharField(max_length=CODE_LENGTH, unique=True, default=new_code)
    begun = models.DateTimeField(auto_now_add=True)
    ended = models.DateTimeField(null=True, blank=True)
    forget_after = models.PositiveSmallIntegerField(default=FORGOTTEN_AFTER)

    class Meta:
        ordering = ("-begun",)

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("procedures:course", args=[self.pk])


class Assignment(models.Model):
    """A procedure that a class works by, frozen at a revision, in its place in the course."""

    course = models.ForeignKey(Course, models.CASCADE, related_name="assignments")
    procedure = models.ForeignKey(Procedure, models.CASCADE, related_name="assignments")
    revision = models.ForeignKey(Revision, models.CASCADE, related_name="+")
    place = models.PositiveIntegerField()
    begins = models.DateField(null=True, blank=True)
    due = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ("place", "pk")
        constraints = (
            models.UniqueConstraint(fields=("course", "procedure"), name="assigned_to_a_class_once"),
        )

    def __str__(self) -> str:
        return f"{self.revision} for {self.course}"


class CourseDay(models.Model):
    """A day on which a class meets, and what is done then."""

    course = models.ForeignKey(Course, models.CASCADE, related_name="days")
    day = models.DateField()
    words = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("day",)
        constraints = (models.UniqueConstraint(fields=("course", "day"), name="a_class_day_once"),)

    def __str__(self) -> str:
        return f"{self.course} on {self.day}"
