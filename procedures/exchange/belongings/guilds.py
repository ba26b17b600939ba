"""Guilds the person is in, and what was asked of them there."""

from __future__ import annotations

import json
from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures.actions.leaving import nobody
from procedures.exchange.account import Belongings, Gathered, Leaving
from procedures.models import Membership, Procedure


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield the guilds the person is in."""
    guilds = [
        {"guild": one.guild.name, "role": one.role, "since": one.since.isoformat()}
        for one in Membership.objects.filter(user_id=person.pk).select_related("guild")
    ]
    if guilds:
        yield Gathered("guilds.json", json.dumps(guilds, ensure_ascii=False, indent=2).encode())


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    names = Membership.objects.filter(user_id=person.pk).values_list("guild__name", flat=True)
    if names:
        yield f"your place in {', '.join(names)}, whose keepers keep what is on the shelf"


def erase(person: AbstractBaseUser, leaving: Leaving) -> None:
    """Credit what others keep by now to nobody."""
    written = Procedure.objects.filter(writer_id=person.pk)
    if written.exists():
        written.update(writer=nobody())


BELONGINGS = Belongings(
    title="Guilds",
    fields={
        "procedures.Membership.user": "deleted",
        "procedures.JoinRequest.by": "deleted",
        "procedures.Invitation.by": "unnamed",
        "procedures.Invitation.used_by": "unnamed",
        "procedures.Procedure.writer": "handed over",
    },
    gather=gather,
    told=told,
    erase=erase,
    first=True,
)
