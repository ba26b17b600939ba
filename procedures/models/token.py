"""Tokens by which a program acts for somebody over the HTTP API."""

from __future__ import annotations

import hashlib
import secrets

from django.conf import settings
from django.db import models
from django.utils import timezone

PREFIX = "fs_"  # so that a secret that got out is known for one


def new_secret() -> str:
    """Return a secret that nobody guesses; it is shown once and kept nowhere."""
    return PREFIX + secrets.token_urlsafe(32)


def digest_of(secret: str) -> str:
    """Return what is kept of a secret."""
    return hashlib.sha256(secret.encode()).hexdigest()


class ApiToken(models.Model):
    """A token of somebody's. Only the digest of its secret is kept; `hint` is how the secret begins."""

    owner = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="api_tokens")
    name = models.CharField(max_length=80)
    digest = models.CharField(max_length=64, unique=True)
    hint = models.CharField(max_length=12)
    writes = models.BooleanField(default=False)
    made = models.DateTimeField(auto_now_add=True)
    expires = models.DateTimeField(null=True, blank=True)
    used = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made", "-pk")

    def __str__(self) -> str:
        return self.name

    @property
    def scopes(self) -> tuple[str, ...]:
        """What it lets a program do."""
        return ("read", "write") if self.writes else ("read",)

    @property
    def is_over(self) -> bool:
        """Whether its time is up."""
        return self.expires is not None and self.expires <= timezone.now()
