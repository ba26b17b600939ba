"""What may be hidden by who looks after the site."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class Hideable(models.Model):
    """Something that a moderator hides from everybody but its author, who reads why, and shows again."""

    hidden = models.DateTimeField(null=True, blank=True)
    hidden_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    hidden_reason = models.CharField(max_length=500, blank=True)

    class Meta:
        abstract = True
