"""Guilds: those one is in, those one asked to be let into, what one wrote for their shelves."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures import actions
from procedures.exchange.account import Belongings, Gathered, Leaving, as_json
from procedures.exchange.counting import counted
from procedures.models import JoinRequest, Membership, Procedure


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield the guilds a person is in, and what was written to get into others."""
    kept = {
        "guilds": [
            {"name": one.guild.name, "role": one.role, "since": one.since.isoformat()}
            for one in Membership.objects.filter(user_id=person.pk).select_related("guild")
        ],
        "asked": [
            {"guild": one.guild.name, "words": one.words, "made": one.made.isoformat(), "let_in": one.let_in}
            for one in JoinRequest.objects.filter(by_id=person.pk).select_related("guild")
        ],
        "wrote": list(Procedure.objects.filter(writer_id=person.pk).values_list("slug", flat=True)),
    }
    if any(kept.values()):
        yield as_json("guilds.json", kept)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    yield from counted(Membership.objects.filter(user_id=person.pk).count(), "guild", "you are in")
    on_shelves = Procedure.objects.filter(owner_id=person.pk, on_shelf=True, guild__isnull=False).count()
    yield from counted(on_shelves, "procedure", "on shelves of guilds, which go to their keepers")


def erase(person: AbstractBaseUser, leaving: Leaving) -> None:
    """Hand over what stands on shelves, and guilds that would be without a keeper."""
    actions.leave_all_guilds(credited=not leaving.name_out, by=person)


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
