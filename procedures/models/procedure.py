"""A procedure, whose draft is its document, and the revisions that were published of it."""

from __future__ import annotations

import secrets
from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse

from procedures.engine.document import Document
from procedures.engine.document import read as read_stored

from .hiding import Hideable

CODE_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that is taken for another in print
CODE_LENGTH = 8


def new_revision_code() -> str:
    """Return the short name that a revision is cited by."""
    return "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))


class Procedure(Hideable):
    """One procedure. `document` is the draft as it stands, in the form the engine reads.

    `version` counts saves; `head` is the number of the edit that the draft is at. `title` repeats the
    document's for lists. Readers get `latest`, and only while the status lets them: `access.py` says whom.
    `writer` is who wrote it, where a guild's keeper took it over. `guild` is whose it is to read while the
    status says so, and, while it is `on_shelf`, to work at. `withdrawn` is when it was taken back from its
    readers, who are told so and why, until it is published to them again; `withdrawn_from` is the status it
    had. While it is `hidden` only who works at it reads it, whatever its status.
    """

    class Status(models.TextChoices):
        DRAFT = "draft", "Draft"
        PUBLIC = "public", "Public"
        UNLISTED = "unlisted", "Unlisted"
        GUILD = "guild", "Guild"

    owner = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="procedures")
    writer = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    slug = models.SlugField(max_length=80, unique=True)
    title = models.CharField(max_length=120)
    document: models.JSONField[Any, Any] = models.JSONField()
    status = models.CharField(max_length=10, choices=Status.choices, default=Status.DRAFT)
    guild = models.ForeignKey("Guild", models.SET_NULL, null=True, blank=True, related_name="procedures")
    on_shelf = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)
    head = models.PositiveIntegerField(default=0)
    latest = models.ForeignKey("Revision", models.SET_NULL, null=True, blank=True, related_name="+")
    withdrawn = models.DateTimeField(null=True, blank=True)
    withdrawn_reason = models.CharField(max_length=500, blank=True)
    withdrawn_from = models.CharField(max_length=10, choices=Status.choices, blank=True)
    created = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)

    _read: tuple[Any, Document] | None = None

    class Meta:
        ordering = ("-updated", "-pk")
        indexes = (
            models.Index(fields=("owner", "-updated"), name="procedure_by_owner"),
            models.Index(fields=("status", "-updated"), name="procedure_by_status"),
        )

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("procedures:read", args=[self.slug])

    def read(self) -> Document:
        """Return the draft as the engine reads it, kept until `document` changes. Raises DocumentError."""
        if self._read is None or self._read[0] is not self.document:
            self._read = self.document, read_stored(self.document, draft=True)
        return self._read[1]

    @property
    def author(self) -> str:
        """The name of who wrote it."""
        return (self.writer or self.owner).get_username()

    @property
    def is_public(self) -> bool:
        """Whether it is in the lists, for everybody to read its latest revision."""
        return self.is_published and self.status == self.Status.PUBLIC

    @property
    def is_open(self) -> bool:
        """Whether everybody who has its address may read its latest revision."""
        return self.is_published and self.status in (self.Status.PUBLIC, self.Status.UNLISTED)

    @property
    def is_published(self) -> bool:
        """Whether others than who works at it may read its latest revision, be it a guild alone."""
        return self.status != self.Status.DRAFT and self.latest_id is not None and self.hidden is None

    @property
    def is_linked(self) -> bool:
        """Whether pages of others may lead to it, or to the stone in its place: if it is, or was, public."""
        status = self.withdrawn_from if self.status == self.Status.DRAFT else self.status
        return status == self.Status.PUBLIC and self.hidden is None


class Revision(Hideable):
    """A document as it was published; it never changes, and its address and `code` stay its own.

    `digest` is that of the document, `frames_digest` that of its replay report when it was published: a later
    engine that reckons another number shows by a different one. `note` says what changed. One that is
    withdrawn is not shown any more; that it was there, and why it went, is.
    """

    procedure = models.ForeignKey(Procedure, models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    code = models.CharField(max_length=CODE_LENGTH, unique=True, default=new_revision_code, editable=False)
    title = models.CharField(max_length=120)
    document: models.JSONField[Any, Any] = models.JSONField()
    digest = models.CharField(max_length=64)
    frames_digest = models.CharField(max_length=64)
    note = models.CharField(max_length=1000, blank=True)
    published_at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    withdrawn = models.DateTimeField(null=True, blank=True)
    withdrawn_reason = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("-number",)
        indexes = (models.Index(fields=("-published_at", "-id"), name="revisions_newest"),)
        constraints = (models.UniqueConstraint(fields=("procedure", "number"), name="one_revision_a_number"),)

    def __str__(self) -> str:
        return f"{self.title}, revision {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("procedures:revision", args=[self.procedure.slug, self.number])


class FrozenReport(models.Model):
    """The replay report of a revision as it was published, packed (`procedures.frozen`).

    Apart from the revision, since it is large and only those want it who look what a later engine changes.
    """

    revision = models.OneToOneField(Revision, models.CASCADE, primary_key=True, related_name="frozen")
    packed = models.BinaryField()

    def __str__(self) -> str:
        return f"The figures of {self.revision}"
