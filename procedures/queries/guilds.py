"""What is read of guilds, and as whom."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import QuerySet

from procedures.models import Guild, Procedure


def own_guilds(user: AbstractBaseUser | AnonymousUser) -> QuerySet[Guild]:
    """Return the guilds that a user is in, by name."""
    return (
        Guild.objects.filter(memberships__user_id=user.pk) if user.is_authenticated else Guild.objects.none()
    )


def guilds_to_publish_for(procedure: Procedure, user: AbstractBaseUser | AnonymousUser) -> list[Guild]:
    """Return the guilds that a procedure may be published for: on a shelf, that guild alone."""
    if procedure.on_shelf and procedure.guild:
        return [procedure.guild]
    return list(own_guilds(user))
