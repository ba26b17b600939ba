"""Runs: pieces forged by a procedure, as the phones that were there sent them, each perhaps in a class."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse

from .course import Course
from .photo import Picture
from .procedure import Procedure, Revision


class Run(models.Model):
    """One piece, or set of pieces, forged by a procedure. `id` was made on the phone.

    Who has its key may add to it: `key_digest` is the key's. `name` is what the student typed, no more.
    """

    id = models.UUIDField(primary_key=True, editable=False)
    key_digest = models.CharField(max_length=64)
    procedure = models.ForeignKey(Procedure, models.CASCADE, related_name="runs")
    revision = models.ForeignKey(Revision, models.CASCADE, null=True, related_name="+")
    units = models.CharField(max_length=10)
    nominal = models.BooleanField(default=False)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, blank=True, related_name="runs"
    )
    course = models.ForeignKey(Course, models.CASCADE, null=True, blank=True, related_name="runs")
    name = models.CharField(max_length=60, blank=True)
    started = models.DateTimeField()  # by the phone's clock
    received = models.DateTimeField(auto_now_add=True)
    ended = models.BooleanField(default=False)

    class Meta:
        ordering = ("-received", "pk")

    def __str__(self) -> str:
        return f"{self.name or 'A run'} of {self.procedure}"

    def get_absolute_url(self) -> str:
        return reverse("procedures:run", args=[self.pk])


class RunEntry(models.Model):
    """One line of a run's log; it is only ever added. `n` is its place in the order of the phone.

    The teacher's own lines (a gate signed) have no place there: their `n` is null.
    """

    id = models.UUIDField(primary_key=True, editable=False)
    run = models.ForeignKey(Run, models.CASCADE, related_name="entries")
    n = models.PositiveBigIntegerField(null=True)
    kind = models.CharField(max_length=20)
    part = models.CharField(max_length=40, blank=True)
    step = models.CharField(max_length=40, blank=True)
    number = models.PositiveIntegerField(default=0)
    at = models.DateTimeField()  # by the phone's clock
    received = models.DateTimeField(auto_now_add=True)
    data: models.JSONField[Any, Any] = models.JSONField(default=dict)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ("received", "n")
        indexes = (models.Index(fields=("run", "n"), name="entries_in_order"),)

    def __str__(self) -> str:
        return f"{self.kind} at step {self.number}"

    @property
    def is_shared(self) -> bool:
        """Whether who made it lets others see it: asked of photos alone."""
        return self.data.get("consent") is True


class RunPhoto(Picture):
    """The photo that an entry of a run tells of. Its files go by the entry, so that no two runs share one."""

    entry = models.OneToOneField(RunEntry, models.CASCADE, primary_key=True, related_name="photo")

    def __str__(self) -> str:
        return f"Photo of {self.entry_id}"

    def path(self, width: int) -> str:
        """Return the name of a file in the store of photos."""
        name = str(self.entry_id)
        return f"runs/{name[:2]}/{name}-{width}.jpg"

    def url(self, width: int) -> str:
        """Return the address of a file, for who may see it."""
        return reverse("procedures:run_photo", args=[self.entry.run_id, self.entry_id, width])
