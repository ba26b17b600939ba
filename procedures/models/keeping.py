"""What people keep by them: collections in an order, whom and what they follow, how often they want mail."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from .guild import Guild
from .hiding import Hideable
from .procedure import Procedure, Revision


class Collection(Hideable):
    """Procedures in an order, a person's or a guild's. `about` is markdown.

    Private, only who keeps it reads it, and in a guild its members; unlisted, who has the address.
    """

    class Status(models.TextChoices):
        PRIVATE = "private", "Private"
        UNLISTED = "unlisted", "Unlisted"
        PUBLIC = "public", "Public"

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, blank=True, related_name="collections"
    )
    guild = models.ForeignKey(Guild, models.CASCADE, null=True, blank=True, related_name="collections")
    title = models.CharField(max_length=120)
    slug = models.SlugField(max_length=80, unique=True)
    about = models.TextField(max_length=4000, blank=True)
    status = models.CharField(max_length=10, choices=Status.choices, default=Status.PRIVATE)
    made = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ("-updated", "-pk")
        indexes = (models.Index(fields=("status", "-updated"), name="collections_by_status"),)
        constraints = (
            models.CheckConstraint(
                condition=Q(owner=None, guild__isnull=False) | Q(owner__isnull=False, guild=None),
                name="collection_of_one_keeper",
            ),
        )

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("procedures:collection", args=[self.slug])

    @property
    def is_public(self) -> bool:
        """Whether it is in the lists, for everybody to read."""
        return self.status == self.Status.PUBLIC and self.hidden is None

    @property
    def is_open(self) -> bool:
        """Whether everybody who has its address may read it."""
        return self.status != self.Status.PRIVATE and self.hidden is None

    @property
    def keeper(self) -> str:
        """The name of whose it is; of a guild that others may not find, only that it is one."""
        if self.guild is not None:
            return self.guild.name if self.guild.is_shown else "a guild"
        assert self.owner is not None
        return self.owner.get_username()


class CollectionItem(models.Model):
    """One procedure of a collection: its latest revision, or the `revision` it is frozen at.

    `procedure` is None once it was deleted. Whether somebody may read it is asked whenever it is shown.
    """

    collection = models.ForeignKey(Collection, models.CASCADE, related_name="items")
    procedure = models.ForeignKey(Procedure, models.SET_NULL, null=True, related_name="+")
    revision = models.ForeignKey(Revision, models.SET_NULL, null=True, blank=True, related_name="+")
    note = models.CharField(max_length=1000, blank=True)
    place = models.PositiveIntegerField()

    class Meta:
        ordering = ("place", "pk")
        constraints = (
            models.UniqueConstraint(fields=("collection", "procedure"), name="in_a_collection_once"),
        )

    def __str__(self) -> str:
        return f"{self.place} of {self.collection}"


class Follow(models.Model):
    """That somebody wants to hear what is new of one procedure, one person or one guild."""

    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="follows")
    procedure = models.ForeignKey(Procedure, models.CASCADE, null=True, related_name="followers")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, null=True, related_name="followers")
    guild = models.ForeignKey(Guild, models.CASCADE, null=True, related_name="followers")
    since = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(fields=("by", "procedure"), name="follow_once_procedure"),
            models.UniqueConstraint(fields=("by", "person"), name="follow_once_person"),
            models.UniqueConstraint(fields=("by", "guild"), name="follow_once_guild"),
            models.CheckConstraint(
                condition=(
                    Q(procedure__isnull=False, person=None, guild=None)
                    | Q(procedure=None, person__isnull=False, guild=None)
                    | Q(procedure=None, person=None, guild__isnull=False)
                ),
                name="follow_one_thing",
            ),
        )

    def __str__(self) -> str:
        return f"{self.by} follows {self.procedure or self.person or self.guild}"


class DigestWish(models.Model):
    """How often a person wants mail of what is new, and up to when they were told."""

    class Often(models.TextChoices):
        NEVER = "never", "Never"
        DAILY = "daily", "Once a day"
        WEEKLY = "weekly", "Once a week"

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="digest_wish"
    )
    often = models.CharField(max_length=10, choices=Often.choices, default=Often.NEVER)
    told: models.DateTimeField[Any, Any] = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.user}: {self.get_often_display().lower()}"
