"""What moderators do about what is reported. Every deed is a line of their log, which is only added to."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser, Permission, User
from django.core.mail import send_mail
from django.db import transaction
from django.utils import timezone

from procedures.models import ModerationAct, Procedure, Report, Revision, WritingBlock, WrittenWarning
from procedures.queries.care import Thing, described, thing_of
from procedures.standing import may_moderate

from .finding import note_facts
from .saving import Refused, locked

What = ModerationAct.What
LETTER = """{what}: {title}.

{why}

Your account page says more: {where}
Write to {contact} if you think that this is wrong.
"""


@transaction.atomic
def dismiss_reports(*, thing: Thing, why: str, by: AbstractBaseUser) -> None:
    """Leave a reported thing as it is, and close what was reported of it. Raises Refused."""
    _check(thing, by)
    many = _close(thing, Report.Outcome.DISMISSED)
    if not many:
        raise Refused("Nothing that was reported of it waits any more.")
    _log(What.DISMISSED, thing, why, by, before={"waiting": many}, after={"waiting": 0})


@transaction.atomic
def close_gone(*, kind: str, item: int, by: AbstractBaseUser) -> None:
    """Close what was reported of a thing that is gone meanwhile. Raises Refused for one that is there."""
    if thing_of(kind, item) is not None:
        raise Refused("It is there: look at it first.")
    waiting = Report.objects.filter(kind=kind, item=item, closed=None)
    last = waiting.last()
    if last is None:
        raise Refused("Nothing that was reported of it waits any more.")
    if last.about_id == by.pk:
        raise Refused("This is about you: another moderator has to look at it.")
    waiting.update(closed=timezone.now(), outcome=Report.Outcome.DISMISSED)
    ModerationAct.objects.create(
        what=What.DISMISSED,
        kind=kind,
        item=item,
        title=last.title,
        about=last.about,
        why="It is gone.",
        by_id=by.pk,
    )


@transaction.atomic
def hide(*, thing: Thing, reason: str, by: AbstractBaseUser) -> None:
    """Let nobody see a thing but its author, who reads why. Raises Refused."""
    found = _held(thing, by)
    if found.hidden:
        raise Refused("It is hidden already.")
    if isinstance(found, Revision) and not _standing(found).exclude(pk=found.pk).exists():
        raise Refused("It is the only revision that is read: hide the procedure itself.")
    _set_hidden(found, reason, by)
    _close(thing, Report.Outcome.ACTED)
    _log(What.HIDDEN, thing, reason, by, before={"hidden": False}, after={"hidden": True, "reason": reason})
    _write_to(thing, "Hidden by those who look after the site", reason)


@transaction.atomic
def unhide(*, thing: Thing, why: str, by: AbstractBaseUser) -> None:
    """Show a thing again as it was. Raises Refused."""
    found = _held(thing, by)
    if not found.hidden:
        raise Refused("It is not hidden.")
    before = {"hidden": True, "reason": found.hidden_reason}
    _set_hidden(found, None, by)
    _log(What.UNHIDDEN, thing, why, by, before=before, after={"hidden": False})
    _write_to(thing, "Shown again", why)


def _held(thing: Thing, by: AbstractBaseUser) -> Any:
    """Return the thing as it is now, held until the transaction ends. Raises Refused."""
    _check(thing, by)
    if not thing.can_hide:
        raise Refused("A person is warned or blocked, not hidden.")
    found = type(thing.found)._default_manager.select_for_update().filter(pk=thing.item).first()
    if found is None:
        raise Refused("It is gone meanwhile.")
    return found


def _set_hidden(found: Any, reason: str | None, by: AbstractBaseUser) -> None:
    """Hide a thing, or show it again where there is no reason, and find anew what readers get."""
    found.hidden = timezone.now() if reason is not None else None
    found.hidden_by_id = by.pk if reason is not None else None
    found.hidden_reason = reason or ""
    found.save(update_fields=("hidden", "hidden_by", "hidden_reason"))
    if isinstance(found, Procedure):
        note_facts(locked(found))
    elif isinstance(found, Revision):
        procedure = locked(found.procedure)
        procedure.latest = _standing(found).order_by("-number").first()
        procedure.save(update_fields=("latest",))
        note_facts(procedure)


def _standing(revision: Revision) -> Any:
    """Return the revisions of its procedure that are read."""
    return Revision.objects.filter(procedure=revision.procedure_id, withdrawn=None, hidden=None)


# -- people ------------------------------------------------------------------------------------------


@transaction.atomic
def warn(*, person: User, words: str, thing: Thing, by: AbstractBaseUser) -> WrittenWarning:
    """Warn a person in words, which they read before they write on. Raises Refused."""
    _check(thing, by, person)
    made = WrittenWarning.objects.create(user=person, words=words, by_id=by.pk)
    _close(thing, Report.Outcome.ACTED)
    _log(What.WARNED, thing, words, by, about=person, after={"warning": made.pk})
    _write_to(thing, "A warning", words, person)
    return made


@transaction.atomic
def block_writing(
    *, person: User, days: int | None, why: str, thing: Thing, by: AbstractBaseUser
) -> WritingBlock:
    """Let a person read and not write, for so many days or for good. Raises Refused.

    To block a moderator for good needs the word of a second one; until then it only waits.
    """
    _check(thing, by, person)
    until = timezone.now() + timedelta(days=days) if days is not None else None
    waits = until is None and may_moderate(person)
    if waits and WritingBlock.objects.filter(user=person, lifted=None, waits=True).exists():
        raise Refused("Such a block waits for a second word already.")
    made = WritingBlock.objects.create(user=person, until=until, why=why, by_id=by.pk, waits=waits)
    _close(thing, Report.Outcome.ACTED)
    what = What.PROPOSED if waits else What.BLOCKED
    _log(what, thing, why, by, about=person, after=_told(made))
    if not waits:
        _write_to(thing, _block_words(made), why, person)
    return made


@transaction.atomic
def confirm_block(*, block: WritingBlock, by: AbstractBaseUser) -> WritingBlock:
    """Give the second word to a block of a moderator for good. Raises Refused."""
    found, thing = _held_block(block, by)
    if not found.waits:
        raise Refused("This block waits for nobody.")
    if found.by_id is None or found.by_id == by.pk:
        raise Refused("The second word is another moderator’s.")
    found.waits = False
    found.save(update_fields=("waits",))
    _log(What.BLOCKED, thing, found.why, by, before={"waits": True}, after=_told(found))
    _write_to(thing, _block_words(found), found.why)
    return found


@transaction.atomic
def lift_block(*, block: WritingBlock, why: str, by: AbstractBaseUser) -> WritingBlock:
    """Let a person write again, or drop a block that waits for a second word. Raises Refused."""
    found, thing = _held_block(block, by)
    found.lifted = timezone.now()
    found.save(update_fields=("lifted",))
    what = What.DROPPED if found.waits else What.UNBLOCKED
    _log(what, thing, why, by, before=_told(found), after={})
    if not found.waits:
        _write_to(thing, "You may write again", why)
    return found


def _held_block(block: WritingBlock, by: AbstractBaseUser) -> tuple[WritingBlock, Thing]:
    found = WritingBlock.objects.select_for_update().filter(pk=block.pk, lifted=None).first()
    if found is None:
        raise Refused("This block was lifted already.")
    thing = described(found.user)
    _check(thing, by)
    return found, thing


def _told(block: WritingBlock) -> dict[str, Any]:
    return {"until": block.until.isoformat() if block.until else "for good", "waits": block.waits}


def _block_words(block: WritingBlock) -> str:
    until = f"until {block.until:%-d %B %Y}" if block.until else "for good"
    return f"Blocked from writing {until}; you go on reading"


@transaction.atomic
def name_moderator(*, person: User, remove: bool = False, by: AbstractBaseUser | None) -> bool:
    """Let a person look after the site, or no longer; whether that changed anything."""
    permission = Permission.objects.get(content_type__app_label="procedures", codename="moderate")
    held = person.user_permissions.filter(pk=permission.pk).exists()
    if held is not remove:
        return False
    if remove:
        person.user_permissions.remove(permission)
    else:
        person.user_permissions.add(permission)
    what = What.REMOVED if remove else What.NAMED
    _log(what, described(person), "", by, before={"moderator": held}, after={"moderator": not held})
    return True


# -- what all of them do -----------------------------------------------------------------------------


def _check(thing: Thing, by: AbstractBaseUser, *more: User) -> None:
    """Raise Refused where a moderator would act on what is about themselves, or is none any more."""
    if not may_moderate(User.objects.get(pk=by.pk)):
        raise Refused("You do not look after the site any more.")
    if by.pk in {one.pk for one in (*thing.people, *more)}:
        raise Refused("This is about you: another moderator has to look at it.")


def _close(thing: Thing, outcome: str) -> int:
    waiting = Report.objects.filter(kind=thing.kind, item=thing.item, closed=None)
    return waiting.update(closed=timezone.now(), outcome=outcome)


def _log(
    what: str,
    thing: Thing,
    why: str,
    by: AbstractBaseUser | None,
    *,
    about: User | None = None,
    before: dict[str, Any] | None = None,
    after: dict[str, Any] | None = None,
) -> ModerationAct:
    return ModerationAct.objects.create(
        what=what,
        kind=thing.kind,
        item=thing.item,
        title=thing.title,
        about=about or thing.about,
        why=why,
        by_id=by.pk if by else None,
        before=before or {},
        after=after or {},
    )


def _write_to(thing: Thing, what: str, why: str, person: User | None = None) -> None:
    """Tell whose it is by mail too, where there is an address."""
    to = person or thing.about
    if to is None or not to.email:
        return
    words = LETTER.format(
        what=what, title=thing.title, why=why, where="News, then the line about it", contact=settings.CONTACT
    )
    transaction.on_commit(
        lambda: send_mail("forgesite: about what you wrote", words, None, [to.email], fail_silently=True)
    )
