"""Changes of an adaptation offered to the author of the original, and accepted or declined one by one."""

from __future__ import annotations

from collections.abc import Collection

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from procedures import editing, queries
from procedures.merging import changes
from procedures.models import Offer, OfferedChange, Procedure
from procedures.standing import keep_apart

from .adapting import MOST_CREDITS, apply, copy_photos, digests_of, named, told
from .saving import Change, Refused, locked, save

MOST_OPEN = 5  # offers of one adaptation that wait for their answer


@transaction.atomic
def offer_back(*, procedure: Procedure, names: Collection[str], note: str, by: AbstractBaseUser) -> Offer:
    """Offer these changes of an adaptation's draft to the author of its original. Raises Refused."""
    found = locked(procedure)
    lineage = queries.adaptation_of(found)
    if lineage is None or lineage.caught_up is None or not lineage.caught_up.procedure.is_published:
        raise Refused("The original is no longer published, so nothing can be offered to its author.")
    original = lineage.caught_up.procedure
    if keep_apart(by, original.owner_id):
        raise Refused("The author of the original takes no offers now.")
    waiting = found.offers_made.filter(to=original, taken_back=None, changes__state=OfferedChange.State.OPEN)
    if waiting.distinct().count() >= MOST_OPEN:
        raise Refused(f"{MOST_OPEN} offers wait for an answer already. Take one back, or wait for it.")
    base = lineage.caught_up.document
    offered = [one for one in changes(base, found.document, base) if one.name in names]
    if not offered:
        raise Refused("Tick at least one change to offer.")
    offer = Offer.objects.create(
        procedure=found, to=original, document=found.document, base=base, note=note, by_id=by.pk
    )
    OfferedChange.objects.bulk_create(
        OfferedChange(offer=offer, name=one.name, label=told(one)[:200]) for one in offered
    )
    return offer


@transaction.atomic
def accept_change(*, offer: Offer, name: str, by: AbstractBaseUser) -> Procedure:
    """Take an offered change into the author's draft, and credit who offered it. Raises Refused."""
    found = locked(offer.to)
    one = _open(offer, name)
    change = named(changes(offer.base, offer.document, found.document), name)
    giver = offer.by.get_username()
    apply(found, change, f"Offered by {giver}: {told(change)}", by)
    copy_photos(offer.procedure, found, digests_of(change))
    _credit(found, giver, by)
    one.state, one.decided = OfferedChange.State.ACCEPTED, timezone.now()
    one.save(update_fields=("state", "decided"))
    return found


@transaction.atomic
def decline_change(*, offer: Offer, name: str, reason: str, by: AbstractBaseUser) -> OfferedChange:
    """Leave an offered change, saying why or not. Raises Refused."""
    locked(offer.to)
    one = _open(offer, name)
    one.state, one.decided, one.reason = OfferedChange.State.DECLINED, timezone.now(), reason
    one.save(update_fields=("state", "decided", "reason"))
    return one


@transaction.atomic
def take_offer_back(*, offer: Offer, by: AbstractBaseUser) -> Offer:
    """Offer it no longer; what was accepted stays where it is."""
    locked(offer.to)
    offer.taken_back = offer.taken_back or timezone.now()
    offer.save(update_fields=("taken_back",))
    return offer


def _open(offer: Offer, name: str) -> OfferedChange:
    """Return a change that waits for its answer, as it is now. Raises Refused."""
    if Offer.objects.filter(pk=offer.pk, taken_back=None).first() is None:
        raise Refused("This offer was taken back.")
    one = offer.changes.filter(name=name).first()
    if one is None or one.state != OfferedChange.State.OPEN:
        raise Refused("This change was answered already.")
    return one


def _credit(procedure: Procedure, giver: str, by: AbstractBaseUser) -> None:
    """Credit who gave a change, once; where there is no room for it, the author has to make some first."""
    names = procedure.document.get("credits", [])
    line = f"{giver}: changes"[:120]
    if line in names or procedure.owner.get_username() == giver:
        return
    if len(names) >= MOST_CREDITS:
        raise Refused(
            f"There are {MOST_CREDITS} credits already: join some, so that {giver} can be credited."
        )
    document = editing.with_details(procedure.document, {"credits": [*names, line]})
    save(procedure, document, Change(f"Credit: {giver}", "details/credits"), by)
