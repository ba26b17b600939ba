"""Adaptations: where a procedure comes from, and what is offered back to its author."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse

from .procedure import Procedure, Revision


class Adaptation(models.Model):
    """That a procedure was adapted from a revision of another. Made by `actions.adapt` alone.

    `title`, `number` and `author` stay when the original is deleted; `licence` and `credits` are what the
    adaptation owes it. `caught_up` is the revision that the original's later changes are told against.
    """

    procedure = models.OneToOneField(Procedure, models.CASCADE, primary_key=True, related_name="adaptation")
    source = models.ForeignKey(Revision, models.SET_NULL, null=True, related_name="adaptations")
    caught_up = models.ForeignKey(Revision, models.SET_NULL, null=True, related_name="+")
    title = models.CharField(max_length=120)
    number = models.PositiveIntegerField()
    author = models.CharField(max_length=150)
    licence = models.CharField(max_length=20)
    credits: models.JSONField[Any, Any] = models.JSONField(default=list)
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"{self.procedure}, adapted from {self.title}, revision {self.number}"


class Offer(models.Model):
    """Changes of an adaptation offered to the author of the original.

    `document` is the adaptation as it was then, `base` what the changes are told against.
    """

    procedure = models.ForeignKey(Procedure, models.CASCADE, related_name="offers_made")
    to = models.ForeignKey(Procedure, models.CASCADE, related_name="offers")
    document: models.JSONField[Any, Any] = models.JSONField()
    base: models.JSONField[Any, Any] = models.JSONField()
    note = models.CharField(max_length=1000)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="offers")
    made = models.DateTimeField(auto_now_add=True)
    taken_back = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made", "-pk")

    def __str__(self) -> str:
        return f"An offer to {self.to}"

    def get_absolute_url(self) -> str:
        return reverse("procedures:offer", args=[self.pk])


class OfferedChange(models.Model):
    """One change of an offer, by its name (`merging.StepChange.name`), and what was decided of it."""

    class State(models.TextChoices):
        OPEN = "open", "Open"
        ACCEPTED = "accepted", "Accepted"
        DECLINED = "declined", "Declined"

    offer = models.ForeignKey(Offer, models.CASCADE, related_name="changes")
    name = models.CharField(max_length=120)
    label = models.CharField(max_length=200)
    state = models.CharField(max_length=10, choices=State.choices, default=State.OPEN)
    reason = models.CharField(max_length=500, blank=True)
    decided = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (models.UniqueConstraint(fields=("offer", "name"), name="a_change_once"),)

    def __str__(self) -> str:
        return self.label
