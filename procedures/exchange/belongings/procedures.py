"""Procedures, their history, revisions and photos, and what was offered of them and to them."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser

from procedures import actions
from procedures.exchange.account import Belongings, Gathered, Leaving, as_json
from procedures.exchange.counting import counted
from procedures.models import Offer, Procedure


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield the offers the person made; the procedures themselves are packed as such."""
    offers = [
        {
            "to": one.to.slug,
            "from": one.procedure.slug,
            "note": one.note,
            "made": one.made.isoformat(),
            "taken_back": one.taken_back.isoformat() if one.taken_back else None,
            "changes": [
                {"label": change.label, "state": change.state, "reason": change.reason}
                for change in one.changes.all()
            ],
        }
        for one in Offer.objects.filter(by_id=person.pk)
        .select_related("to", "procedure")
        .prefetch_related("changes")
    ]
    if offers:
        yield as_json("offers.json", offers)


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    own = Procedure.objects.filter(owner_id=person.pk)
    published = own.exclude(status=Procedure.Status.DRAFT).count()
    yield from counted(own.count() - published, "draft", "with its history and photos")
    yield from counted(published, "published procedure", "with all its revisions and photos")
    yield from counted(Offer.objects.filter(by_id=person.pk).count(), "offer", "made to authors")


def erase(person: AbstractBaseUser, leaving: Leaving) -> None:
    """Delete the person's procedures, or let those that are published stand without a name."""
    for one in Procedure.objects.filter(owner_id=person.pk):
        if leaving.keep_published and one.is_published:
            actions.leave_behind(procedure=one, by=person)
        else:
            actions.delete_procedure(procedure=one, by=person)


BELONGINGS = Belongings(
    title="Procedures",
    fields={
        "procedures.Procedure.owner": "deleted",
        "procedures.Revision.by": "unnamed",
        "procedures.Edit.by": "unnamed",
        "procedures.Photo.uploader": "unnamed",
        "procedures.Offer.by": "deleted",
    },
    gather=gather,
    told=told,
    erase=erase,
)
