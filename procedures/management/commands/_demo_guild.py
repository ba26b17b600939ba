"""A guild of the demo's smiths, with a procedure on its shelf and a class."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser

from procedures import actions
from procedures.models import Procedure

ABOUT = """We meet at the lower bridge on the first Tuesday of the month, and forge **hooks, hinges and
tools** for the houses round about. Who wants to try a fire is welcome."""
TOOLS = {"operation:upset": "Jump up", "operation:draw_out": "Draw down"}


def gather(
    smith: AbstractBaseUser, apprentice: AbstractBaseUser, hook: Procedure, shelved: Procedure
) -> None:
    """Found a guild that the smith keeps and the apprentice edits for, and teach a class by the hook."""
    guild = actions.found_guild(name="Lower Bridge Smiths", by=smith)
    profile = {
        "about": ABOUT,
        "place": "Lower Bridge",
        "shop": "Two coke hearths, one gas forge, three anvils, a 25 kg power hammer.",
        "tongs": ["wolf jaw", "box jaw", "bolt tongs"],
    }
    actions.edit_guild(guild=guild, profile=profile, by=smith)
    for thing, name in TOOLS.items():
        actions.name_tool(guild=guild, thing=thing, name=name, by=smith)
    tokens: list[str] = []

    def keep(token: str) -> str:
        tokens.append(token)
        return token

    actions.invite(guild=guild, role="editor", link_of=keep, by=smith)
    actions.accept_invitation(token=tokens[0], by=apprentice)
    actions.put_on_shelf(procedure=shelved, guild=guild, by=smith)
    actions.open_course(procedure=hook, title="First hooks", by=smith)
