"""What is read of guilds, and as whom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Case, Count, Q, QuerySet, When
from django.utils import timezone

from procedures.access import membership_in
from procedures.engine.catalogue import find
from procedures.models import Guild, Invitation, JoinRequest, Membership, Procedure

from .procedures import readable_procedures

Visitor = AbstractBaseUser | AnonymousUser
OPERATION = "operation:"  # before the id of an operation that a guild has a name for


def own_guilds(user: Visitor) -> QuerySet[Guild]:
    """Return the guilds that a user is in, by name."""
    if not user.is_authenticated:
        return Guild.objects.none()
    return Guild.objects.filter(memberships__user_id=user.pk)


def listed_guilds(user: Visitor) -> QuerySet[Guild]:
    """Return the guilds that everybody may find, without the user's own, with how many are in each."""
    others = Guild.objects.filter(listed=True, hidden=None).exclude(pk__in=own_guilds(user).values("pk"))
    return others.annotate(members=Count("memberships")).order_by("name", "pk")


def guilds_to_publish_for(procedure: Procedure, user: Visitor) -> list[Guild]:
    """Return the guilds that a procedure may be published for: on a shelf, that guild alone."""
    if procedure.on_shelf and procedure.guild:
        return [procedure.guild]
    return list(own_guilds(user))


def members_of(guild: Guild) -> QuerySet[Membership]:
    """Return who is in a guild, keepers first, then editors, then those who came first."""
    keeper, editor = Q(role=Membership.Role.KEEPER), Q(role=Membership.Role.EDITOR)
    rank = Case(When(keeper, then=0), When(editor, then=1), default=2)
    return guild.memberships.select_related("user").order_by(rank, "since", "pk")


def procedures_of(guild: Guild, user: Visitor) -> QuerySet[Procedure]:
    """Return the procedures of a guild that a user may read in some form, the last changed first."""
    return readable_procedures(user).filter(guild=guild).order_by("-updated", "-pk")


def own_for_shelf(user: Visitor) -> QuerySet[Procedure]:
    """Return a user's procedures that stand on no shelf, the last changed first."""
    if not user.is_authenticated:
        return Procedure.objects.none()
    return Procedure.objects.filter(owner_id=user.pk, on_shelf=False).defer("document")


def waiting_invitations(guild: Guild) -> QuerySet[Invitation]:
    """Return the invitations of a guild that can still be used."""
    found = guild.invitations.filter(used=None, taken_back=None, expires__gt=timezone.now())
    return found.select_related("by")


def waiting_requests(guild: Guild) -> QuerySet[JoinRequest]:
    """Return who asks to be let in, the first who asked first."""
    return guild.requests.filter(answered=None).select_related("by")


def guild_words(procedure: Procedure, user: Visitor, document: Mapping[str, Any]) -> dict[str, str]:
    """Return the guild's names for what a stored document works with, by the site's: for its own procedures.

    Nothing where the guild is not listed and the user is not in it.
    """
    guild = procedure.guild
    if guild is None or not (guild.is_shown or membership_in(user, guild)):
        return {}
    used = {step["operation"] for part in document["parts"] for step in part.get("steps", [])}
    kinds = [kind for one in sorted(used) if (kind := find(one))]
    names = dict(guild.tool_names.values_list("thing", "name"))
    titles = {kind.title: names.get(f"{OPERATION}{kind.id}") for kind in kinds}
    tools = {tool: names.get(tool) for kind in kinds for tool in (*kind.tools, *kind.power_tools)}
    return {one: name for one, name in {**titles, **tools}.items() if name}


def named_things(guild: Guild, things: Mapping[str, str]) -> Iterable[tuple[str, str, str]]:
    """Return what a guild has names for: the thing, the site's name and the guild's."""
    names = guild.tool_names.values_list("thing", "name")
    return [(thing, things.get(thing, thing), name) for thing, name in names]
