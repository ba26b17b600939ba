"""Reports the person made, what moderators did about them, and whom they shut out."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures.exchange.account import LEFT, Belongings, Gathered, Leaving, as_json
from procedures.exchange.counting import counted
from procedures.models import ModerationAct, Report, ShutOut
from procedures.models.care import Kind
from procedures.queries import care


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield one file of all of it."""
    kept = {
        "reports": [
            {"of": one.title, "reason": one.reason, "words": one.words, "made": one.made.isoformat()}
            for one in care.own_reports(person)
        ],
        "warnings": [{"words": one.words, "made": one.made.isoformat()} for one in care.warnings_of(person)],
        "done_by_moderators": [
            {"what": one.what, "to": one.title, "why": one.why, "at": one.at.isoformat()}
            for one in care.acts_about(person)
        ],
        "shut_out": [one.whom.username for one in care.shut_out_by(person)],
    }
    if any(kept.values()):
        yield as_json("care.json", kept)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    yield from counted(Report.objects.filter(by_id=person.pk).count(), "report", "you made")
    yield from counted(ShutOut.objects.filter(by_id=person.pk).count(), "name", "of whom you shut out")


def erase(person: AbstractBaseUser, leaving: Leaving) -> None:
    """Take the name and the words of the person out of reports and of the log, whose lines stay."""
    about = {"kind": Kind.PERSON, "item": person.pk}
    Report.objects.filter(**about).update(title=LEFT)
    Report.objects.filter(about_id=person.pk).update(was="")
    ModerationAct._base_manager.filter(**about).update(title=LEFT)


BELONGINGS = Belongings(
    title="Care",
    fields={
        "procedures.Report.by": "unnamed",
        "procedures.Report.about": "unnamed",
        "procedures.ModerationAct.by": "unnamed",
        "procedures.ModerationAct.about": "unnamed",
        "procedures.WrittenWarning.user": "deleted",
        "procedures.WrittenWarning.by": "unnamed",
        "procedures.WritingBlock.user": "deleted",
        "procedures.WritingBlock.by": "unnamed",
        "procedures.ShutOut.by": "deleted",
        "procedures.ShutOut.whom": "deleted",
        "procedures.Procedure.hidden_by": "unnamed",
        "procedures.Revision.hidden_by": "unnamed",
        "procedures.Guild.hidden_by": "unnamed",
    },
    gather=gather,
    told=told,
    erase=erase,
)
