"""A guild's shelf: what is put on it, taken off, and handed over when its owner goes."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from procedures import editing
from procedures.models import Guild, Procedure

from .adapting import CREDIT_LENGTH, MOST_CREDITS
from .saving import Change, Refused, locked, save

MOST_ON_SHELF = 2000
WROTE = "first written"  # what stands in the credits after the name of who wrote what was handed over


@transaction.atomic
def put_on_shelf(*, procedure: Procedure, guild: Guild, by: AbstractBaseUser) -> Procedure:
    """Let a guild's editors work at a draft, and its keepers publish it. Raises Refused."""
    found = locked(procedure)
    if found.on_shelf and found.guild_id:
        raise Refused("It stands on a shelf already.")
    if found.status == Procedure.Status.GUILD and found.guild_id != guild.pk:
        raise Refused("Another guild reads it. Publish it for everybody, or withdraw it, first.")
    if guild.procedures.filter(on_shelf=True).count() >= MOST_ON_SHELF:
        raise Refused(f"The shelf holds {MOST_ON_SHELF} procedures, and is full.")
    found.guild, found.on_shelf = guild, True
    found.save(update_fields=("guild", "on_shelf"))
    return found


@transaction.atomic
def take_off_shelf(*, procedure: Procedure, by: AbstractBaseUser) -> Procedure:
    """Let only its owner work at a draft again; who reads it stays as it is."""
    found = locked(procedure)
    found.on_shelf = False
    if Procedure.Status.GUILD not in (found.status, found.withdrawn_from):
        found.guild = None
    found.save(update_fields=("guild", "on_shelf"))
    return found


@transaction.atomic
def hand_over(
    *,
    guild: Guild,
    person: AbstractBaseUser,
    to: AbstractBaseUser,
    credited: bool = True,
    by: AbstractBaseUser,
) -> int:
    """Give what a person has on a guild's shelf to its keeper, and return how many they are.

    Who wrote it is still told as its author, and stands in the draft's credits where there is room.
    """
    owned = Procedure.objects.filter(guild=guild, on_shelf=True, owner_id=person.pk).values_list(
        "pk", flat=True
    )
    for pk in list(owned):
        found = Procedure.objects.select_for_update().get(pk=pk)
        if credited:
            _credit(found, person.get_username(), by)
            found.writer_id = found.writer_id or person.pk
        found.owner_id = to.pk
        found.save(update_fields=("owner", "writer"))
    return len(owned)


def _credit(procedure: Procedure, name: str, by: AbstractBaseUser) -> None:
    names = procedure.document.get("credits", [])
    line = f"{name}: {WROTE}"[:CREDIT_LENGTH]
    if line in names or len(names) >= MOST_CREDITS:
        return
    document = editing.with_details(procedure.document, {"credits": [*names, line]})
    save(procedure, document, Change(f"Credit: {name}", "details/credits"), by)
