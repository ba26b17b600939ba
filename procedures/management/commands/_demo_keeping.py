"""What two invented smiths keep: a collection for a first weekend, and whom one of them follows."""

from collections.abc import Mapping

from django.contrib.auth.models import User

from procedures import actions
from procedures.models import Collection, Procedure

ABOUT = """\
Three pieces in this order teach *drawing out and bending*, *splitting and scrolls*, and *joints*; each wants
what the one before taught.

Bring boots and cotton. Eye protection is here."""
IN_ORDER = (
    ("coat_hook.json", "The first evening. Forge two: the second is the one to keep."),
    ("hat_bracket.json", "Saturday. Split it slowly, and look at both sides."),
    ("pot_stand.json", "Sunday. Mark out everything before the first heat."),
)


def put_together(smith: User, apprentice: User, loaded: Mapping[str, Procedure]) -> Collection:
    """Put it together, of what the demo published."""
    made = actions.make_collection(
        title="A first weekend at the anvil", about=ABOUT, status=Collection.Status.PUBLIC, by=smith
    )
    for name, note in IN_ORDER:
        item = actions.collect(collection=made, procedure=loaded[name], by=smith)
        actions.note_item(item=item, note=note, revision=None, by=smith)
    actions.follow(thing=smith, by=apprentice)
    return made
