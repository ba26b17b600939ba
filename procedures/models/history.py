"""The history of a draft, which undo and redo walk along."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models


class Edit(models.Model):
    """One change of a procedure's draft, with the document as it was after it.

    Number 0 is the document as it began. `place` says what was touched ("bar/s3/target"), so that typing one
    value letter by letter is one edit and not ten. `part` and `step` are where undo should show its effect.
    """

    procedure = models.ForeignKey("Procedure", models.CASCADE, related_name="edits")
    number = models.PositiveIntegerField()
    document: models.JSONField[Any, Any] = models.JSONField()
    label = models.CharField(max_length=160)
    place = models.CharField(max_length=160, blank=True)
    part = models.CharField(max_length=40, blank=True)
    step = models.CharField(max_length=40, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ("number",)
        constraints = (models.UniqueConstraint(fields=("procedure", "number"), name="one_edit_a_number"),)

    def __str__(self) -> str:
        return self.label
