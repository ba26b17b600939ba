"""Guilds: smiths who share a shelf of procedures, with their house profile, and how one comes in."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse

from .hiding import Hideable


class Guild(Hideable):
    """Smiths who keep a shelf of procedures together; there is always a keeper among them.

    `about` is markdown. `place` to `tongs` are the house profile: `units` is how sizes are told on its pages
    to who chose none, `fire` what the scale of a new procedure is reckoned from, `tongs` what the guild calls
    its tongs, a name each. Others see the page of a guild only while it is `listed` and not `hidden`.
    """

    name = models.CharField(max_length=80)
    slug = models.SlugField(max_length=80, unique=True)
    about = models.TextField(max_length=4000, blank=True)
    listed = models.BooleanField(default=True)
    place = models.CharField(max_length=120, blank=True)
    shop = models.TextField(max_length=1000, blank=True)
    units = models.CharField(max_length=10, blank=True)
    fire = models.CharField(max_length=20, default="average")
    tongs: models.JSONField[Any, Any] = models.JSONField(default=list)
    made = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("name", "pk")

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("procedures:guild", args=[self.slug])

    @property
    def is_shown(self) -> bool:
        """Whether everybody may see its page."""
        return self.listed and self.hidden is None


class Membership(models.Model):
    """That somebody is in a guild, and what they may do there.

    A member reads what is for the guild; an editor works at the drafts on its shelf; a keeper publishes and
    withdraws them, lets others in and sends them away.
    """

    class Role(models.TextChoices):
        KEEPER = "keeper", "Keeper"
        EDITOR = "editor", "Editor"
        MEMBER = "member", "Member"

    guild = models.ForeignKey(Guild, models.CASCADE, related_name="memberships")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=10, choices=Role.choices, default=Role.MEMBER)
    since = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("since", "pk")
        constraints = (models.UniqueConstraint(fields=("guild", "user"), name="in_a_guild_once"),)

    def __str__(self) -> str:
        return f"{self.user}, {self.get_role_display().lower()} of {self.guild}"

    @property
    def edits(self) -> bool:
        """Whether the drafts on the shelf may be changed."""
        return self.role in (self.Role.KEEPER, self.Role.EDITOR)

    @property
    def keeps(self) -> bool:
        """Whether it is a keeper's."""
        return self.role == self.Role.KEEPER


class ToolName(models.Model):
    """What a guild calls a tool or an operation, beside the site's own name for it.

    `thing` is the tool as the operations name it, or "operation:" and the id of an operation.
    """

    guild = models.ForeignKey(Guild, models.CASCADE, related_name="tool_names")
    thing = models.CharField(max_length=120)
    name = models.CharField(max_length=80)

    class Meta:
        ordering = ("thing",)
        constraints = (models.UniqueConstraint(fields=("guild", "thing"), name="a_tool_named_once"),)

    def __str__(self) -> str:
        return f"{self.thing}: {self.name}"


class Invitation(models.Model):
    """A link that lets one person into a guild, once. Only the digest of what it holds is kept."""

    guild = models.ForeignKey(Guild, models.CASCADE, related_name="invitations")
    digest = models.CharField(max_length=64, unique=True)
    role = models.CharField(max_length=10, choices=Membership.Role.choices, default=Membership.Role.MEMBER)
    email = models.EmailField(blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(auto_now_add=True)
    expires = models.DateTimeField()
    used = models.DateTimeField(null=True, blank=True)
    used_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    taken_back = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made", "-pk")

    def __str__(self) -> str:
        return f"An invitation to {self.guild}"


class JoinRequest(models.Model):
    """That somebody asks to be let into a guild, until a keeper answers; one at a time."""

    guild = models.ForeignKey(Guild, models.CASCADE, related_name="requests")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="guild_requests")
    words = models.CharField(max_length=1000, blank=True)
    made = models.DateTimeField(auto_now_add=True)
    answered = models.DateTimeField(null=True, blank=True)
    let_in = models.BooleanField(default=False)

    class Meta:
        ordering = ("made", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("guild", "by"), condition=models.Q(answered=None), name="one_request_waits"
            ),
        )

    def __str__(self) -> str:
        return f"{self.by} asks to come into {self.guild}"
