"""Guilds: founded, described, joined and left, never without a keeper."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Callable, Mapping
from datetime import timedelta
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.core.mail import send_mail
from django.db import transaction
from django.utils import timezone
from django.utils.crypto import get_random_string

from procedures import editing
from procedures.models import Guild, Invitation, JoinRequest, Membership, Procedure, ToolName

from .saving import Refused
from .shelf import hand_over

MOST_KEPT = 20  # guilds of one keeper
MOST_INVITATIONS = 50  # of one guild that wait
MOST_MEMBERS = 1000
MOST_NAMES = 300  # tools that a guild has names for
INVITATION_STANDS = timedelta(days=14)
Role = Membership.Role
MAIL = """{by} invites you to the guild {guild} on forgesite.

The link lets one person in, once, until {expires:%-d %B %Y}:

{link}

Whoever did not expect this can leave it be: nothing is kept of who does not come.
"""


@transaction.atomic
def found_guild(*, name: str, by: AbstractBaseUser) -> Guild:
    """Found a guild, whose first keeper is who founds it. Raises Refused."""
    if Membership.objects.filter(user_id=by.pk, role=Role.KEEPER).count() >= MOST_KEPT:
        raise Refused(f"You keep {MOST_KEPT} guilds already.")
    slug = wanted = editing.key_from(f"{name} guild" if not name.isascii() else name, 60)
    while Guild.objects.filter(slug=slug).exists():
        slug = f"{wanted}-{get_random_string(4, 'abcdefghjkmnpqrstuvwxyz23456789')}"
    guild = Guild.objects.create(name=name, slug=slug)
    Membership.objects.create(guild=guild, user_id=by.pk, role=Role.KEEPER)
    return guild


def edit_guild(*, guild: Guild, profile: Mapping[str, Any], by: AbstractBaseUser) -> Guild:
    """Keep what a guild says of itself, by the names of its fields."""
    for name, value in profile.items():
        setattr(guild, name, value)
    guild.save(update_fields=tuple(profile))
    return guild


@transaction.atomic
def name_tool(*, guild: Guild, thing: str, name: str, by: AbstractBaseUser) -> None:
    """Say what the guild calls a tool or an operation; "" leaves it at the site's name. Raises Refused."""
    if not name:
        guild.tool_names.filter(thing=thing).delete()
        return
    if guild.tool_names.exclude(thing=thing).count() >= MOST_NAMES:
        raise Refused(f"A guild has names of its own for at most {MOST_NAMES} tools and operations.")
    ToolName.objects.update_or_create(guild=guild, thing=thing, defaults={"name": name})


# -- coming in ---------------------------------------------------------------------------------------


@transaction.atomic
def invite(
    *, guild: Guild, role: str, email: str = "", link_of: Callable[[str], str], by: AbstractBaseUser
) -> str:
    """Return a link that lets one person in, once; it goes to the address too, where one is given.

    `link_of` makes the link of its token, of which the site keeps a digest only. Raises Refused.
    """
    now = timezone.now()
    waiting = guild.invitations.filter(used=None, taken_back=None, expires__gt=now).count()
    if waiting >= MOST_INVITATIONS:
        raise Refused(f"{MOST_INVITATIONS} invitations wait already. Take one back first.")
    if role == Role.KEEPER:
        raise Refused("Nobody is a keeper by a link: let them in, then make them one.")
    token = secrets.token_urlsafe(24)
    invitation = Invitation.objects.create(
        guild=guild,
        digest=_digest(token),
        role=role,
        email=email,
        by_id=by.pk,
        expires=now + INVITATION_STANDS,
    )
    link = link_of(token)
    if email:
        words = MAIL.format(by=by.get_username(), guild=guild.name, expires=invitation.expires, link=link)
        subject = f"An invitation to the guild {guild.name}"
        transaction.on_commit(lambda: send_mail(subject, words, None, [email]))
    return link


def take_invitation_back(*, guild: Guild, invitation: int, by: AbstractBaseUser) -> None:
    """Let an invitation that waits lead nowhere."""
    guild.invitations.filter(pk=invitation, used=None, taken_back=None).update(taken_back=timezone.now())


def invitation_of(token: str) -> Invitation | None:
    """Return the invitation of a link, whether it still stands or not."""
    return Invitation.objects.select_related("guild", "by").filter(digest=_digest(token)).first()


def check_invitation(invitation: Invitation) -> None:
    """Raise Refused for an invitation that lets nobody in any more; the sentence says why."""
    if invitation.used:
        raise Refused("This invitation was used: it lets in one person, once. Ask the guild for another.")
    if invitation.taken_back:
        raise Refused("This invitation was taken back. Ask the guild for another.")
    if invitation.expires <= timezone.now():
        raise Refused("This invitation stood for two weeks, which are over. Ask the guild for another.")


@transaction.atomic
def accept_invitation(*, token: str, by: AbstractBaseUser) -> Membership:
    """Come into a guild by an invitation, which is used up by it. Raises Refused."""
    found = (
        Invitation.objects.select_for_update().select_related("guild").filter(digest=_digest(token)).first()
    )
    if found is None:
        raise Refused("There is no such invitation.")
    if Membership.objects.filter(guild=found.guild, user_id=by.pk).exists():
        raise Refused("You are in this guild already.")
    check_invitation(found)
    found.used, found.used_by_id = timezone.now(), by.pk
    found.save(update_fields=("used", "used_by"))
    return _let_in(found.guild, by, found.role)


@transaction.atomic
def ask_to_join(*, guild: Guild, words: str, by: AbstractBaseUser) -> JoinRequest:
    """Ask a guild's keepers to be let in; asked again while it waits, the words change. Raises Refused."""
    if Membership.objects.filter(guild=guild, user_id=by.pk).exists():
        raise Refused("You are in this guild already.")
    asked, _ = JoinRequest.objects.update_or_create(
        guild=guild, by_id=by.pk, answered=None, defaults={"words": words}
    )
    return asked


@transaction.atomic
def answer_request(*, request: JoinRequest, let_in: bool, by: AbstractBaseUser) -> JoinRequest:
    """Let somebody in who asks, or not. Raises Refused."""
    found = JoinRequest.objects.select_for_update().select_related("guild", "by").get(pk=request.pk)
    if found.answered:
        raise Refused("This request was answered already.")
    found.answered, found.let_in = timezone.now(), let_in
    found.save(update_fields=("answered", "let_in"))
    if let_in:
        _let_in(found.guild, found.by, Role.MEMBER)
    return found


def _let_in(guild: Guild, person: AbstractBaseUser, role: str) -> Membership:
    if guild.memberships.count() >= MOST_MEMBERS:
        raise Refused(f"A guild has at most {MOST_MEMBERS} members.")
    found, _ = Membership.objects.get_or_create(guild=guild, user_id=person.pk, defaults={"role": role})
    waiting = guild.requests.filter(by_id=person.pk, answered=None)
    waiting.update(answered=timezone.now(), let_in=True)
    return found


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


# -- roles, and going --------------------------------------------------------------------------------


@transaction.atomic
def set_role(*, membership: Membership, role: str, by: AbstractBaseUser) -> Membership:
    """Say what a member may do. Raises Refused for the last keeper."""
    found = _held(membership)
    if found.keeps and role != Role.KEEPER and _others(found).filter(role=Role.KEEPER).count() == 0:
        raise Refused("A guild is never without a keeper: make somebody else one first.")
    found.role = role
    found.save(update_fields=("role",))
    return found


@transaction.atomic
def leave_guild(*, membership: Membership, successor: int | None = None, by: AbstractBaseUser) -> None:
    """Leave a guild. What one has on its shelf is handed to its keeper, and says who wrote it.

    The last keeper says who keeps it after, by the number of a membership; the last of all takes the guild
    along. Raises Refused.
    """
    found = _held(membership)
    others = _others(found)
    if not others.exists():
        delete_guild(guild=found.guild, by=by)
        return
    keeper = others.filter(role=Role.KEEPER).first()
    if keeper is None:
        keeper = others.filter(pk=successor).first()
        if keeper is None:
            raise Refused("A guild is never without a keeper: say who keeps it after you.")
        keeper.role = Role.KEEPER
        keeper.save(update_fields=("role",))
    hand_over(guild=found.guild, person=found.user, to=keeper.user, by=by)
    found.delete()


@transaction.atomic
def remove_member(*, membership: Membership, by: AbstractBaseUser) -> None:
    """Send somebody away; what they have on the shelf is handed to the keeper who does. Raises Refused."""
    found = _held(membership)
    if found.user_id == by.pk:
        raise Refused("That is you: leave the guild instead.")
    keeper = _others(found).filter(user_id=by.pk, role=Role.KEEPER).first()
    if keeper is None:
        raise Refused("Only a keeper sends somebody away.")
    hand_over(guild=found.guild, person=found.user, to=keeper.user, by=by)
    found.delete()


@transaction.atomic
def leave_all_guilds(*, credited: bool, by: AbstractBaseUser) -> None:
    """Leave every guild, before an account goes; who was there longest keeps what is left without a keeper.

    Editors come before members. What is handed over says who wrote it only where it is to be `credited`.
    """
    for membership in Membership.objects.select_related("guild", "user").filter(user_id=by.pk):
        found = _held(membership)
        by_role = {role: _others(found).filter(role=role).first() for role in Role.values}
        heir = by_role[Role.KEEPER] or by_role[Role.EDITOR] or by_role[Role.MEMBER]
        if heir is None:
            delete_guild(guild=found.guild, by=by)
            continue
        heir.role = Role.KEEPER
        heir.save(update_fields=("role",))
        hand_over(guild=found.guild, person=found.user, to=heir.user, credited=credited, by=by)
        found.delete()


@transaction.atomic
def delete_guild(*, guild: Guild, by: AbstractBaseUser) -> None:
    """Dissolve a guild. Its shelf goes back to the owners, who alone read what only the guild read."""
    guild.procedures.filter(status=Procedure.Status.GUILD).update(status=Procedure.Status.DRAFT)
    guild.procedures.update(on_shelf=False)
    guild.delete()


def _held(membership: Membership) -> Membership:
    """Return a membership as it is now, its guild held until the transaction ends. Raises Refused."""
    Guild.objects.select_for_update().filter(pk=membership.guild_id).first()
    found = Membership.objects.select_related("guild", "user").filter(pk=membership.pk).first()
    if found is None:
        raise Refused("That membership is over.")
    return found


def _others(membership: Membership) -> Any:
    return membership.guild.memberships.select_related("user").exclude(pk=membership.pk)
