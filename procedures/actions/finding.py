"""What a procedure is found by, made anew whenever it is published or taken back; and searches kept."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from procedures.engine import document as engine_document
from procedures.engine.replay import Replay, replay
from procedures.finding.facts import FoundBy, facts_of
from procedures.models import Facts, FactsBar, Procedure, SavedSearch, Trait

from .saving import Refused

MOST_SEARCHES = 50  # that one person keeps


@transaction.atomic
def note_facts(procedure: Procedure, replayed: Replay | None = None) -> None:
    """Make a procedure found by what its readers get, and no longer where it is for nobody, or unlisted.

    `replayed` is the replay of its latest revision, where the caller has it already.
    """
    Facts.objects.filter(pk=procedure.pk).delete()
    status = procedure.Status(procedure.status)
    kinds = (procedure.Status.PUBLIC, procedure.Status.GUILD)
    if procedure.latest is None or procedure.hidden or status not in kinds:
        return
    if replayed is None:
        replayed = replay(engine_document.read(procedure.latest.document, draft=True))
    found = facts_of(replayed.document, replayed)
    for_all = status == procedure.Status.PUBLIC
    facts = Facts.objects.create(
        procedure=procedure,
        for_all=for_all,
        guild=None if for_all else procedure.guild,
        published_at=procedure.latest.published_at,
        title=found.title,
        words=found.words,
        heats=found.heats,
        minutes=found.minutes,
        thinnest=found.thinnest,
        thickest=found.thickest,
    )
    _note_details(facts, found)


def _note_details(facts: Facts, found: FoundBy) -> None:
    Trait.objects.bulk_create(
        Trait(facts=facts, kind=kind, value=value) for kind, value in sorted(found.traits)
    )
    FactsBar.objects.bulk_create(
        FactsBar(facts=facts, shape=one.shape, width=one.width, thickness=one.thickness) for one in found.bars
    )


@transaction.atomic
def keep_search(*, name: str, query: str, by: AbstractBaseUser) -> SavedSearch:
    """Keep a search under a name; the same search again gets the new name. Raises Refused beyond a limit."""
    kept = SavedSearch.objects.filter(owner_id=by.pk)
    if kept.count() >= MOST_SEARCHES and not kept.filter(query=query).exists():
        raise Refused(f"You keep {MOST_SEARCHES} searches already. Let one go first.")
    made, _ = SavedSearch.objects.update_or_create(owner_id=by.pk, query=query, defaults={"name": name})
    return made


def look_at_search(*, search: SavedSearch, by: AbstractBaseUser) -> None:
    """Remember that somebody looked at what a search finds, so that what is new is told from then on."""
    SavedSearch.objects.filter(pk=search.pk, owner_id=by.pk).update(looked=timezone.now())


def forget_search(*, search: SavedSearch, by: AbstractBaseUser) -> None:
    """Keep a search no longer."""
    SavedSearch.objects.filter(pk=search.pk, owner_id=by.pk).delete()
