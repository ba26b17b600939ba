"""What the person asked, answered and reported, the thanks given, and what news was read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.contrib.auth.models import AbstractBaseUser

from procedures.actions import results, talking
from procedures.exchange.account import Belongings, Gathered, Leaving, as_json, from_store
from procedures.exchange.counting import counted
from procedures.models import Answer, Question, Result, Thanks
from procedures.models.talk import ResultPhoto, Said


def gather(person: AbstractBaseUser) -> Iterator[Gathered]:
    """Yield one file of all that was said, and the photos of results."""
    own = Result.objects.filter(by_id=person.pk).select_related("procedure", "revision")
    told = {
        "questions": [
            _said(one) | {"procedure": one.procedure.slug, "step": one.step_was}
            for one in Question.objects.filter(by_id=person.pk).select_related("procedure")
        ],
        "answers": [
            _said(one) | {"procedure": one.question.procedure.slug, "question": one.question_id}
            for one in Answer.objects.filter(by_id=person.pk).select_related("question__procedure")
        ],
        "results": [_result(one) for one in own.prefetch_related("readings")],
        "thanks": [
            {"at": one.at.isoformat(), "named": one.is_named}
            for one in Thanks.objects.filter(by_id=person.pk)
        ],
    }
    if any(told.values()):
        yield as_json("talk.json", told)
    for photo in ResultPhoto.objects.filter(result__in=own):
        yield from from_store(f"results/{photo.name}.jpg", photo)


def _said(one: Said) -> dict[str, Any]:
    return {"id": one.pk, "words": one.words, "made": one.made.isoformat()}


def _result(one: Result) -> dict[str, Any]:
    return _said(one) | {
        "procedure": one.procedure.slug,
        "revision": one.revision.number,
        "forged": one.forged.isoformat(),
        "bars": one.bars,
        "heats": one.heats,
        "minutes": one.minutes,
        "wrong": one.wrong,
        "changed": one.changed,
        "readings": [
            {
                name: getattr(reading, name)
                for name in ("part", "step", "kind", "branch", "piece", "length", "section", "mass")
            }
            for reading in one.readings.all()
        ],
        "photos": [f"results/{photo.name}.jpg" for photo in one.photos.all()],
    }


def told(person: AbstractBaseUser) -> Iterator[str]:
    """Yield what there is, in words."""
    yield from counted(Question.objects.filter(by_id=person.pk).count(), "question", "you asked")
    yield from counted(Answer.objects.filter(by_id=person.pk).count(), "answer", "you gave")
    yield from counted(Result.objects.filter(by_id=person.pk).count(), "result", "with its photos")


def erase(person: AbstractBaseUser, leaving: Leaving) -> None:
    """Take the person's words back; that there was a question stays where others answered it."""
    for result in Result.objects.filter(by_id=person.pk):
        results.take_result_back(result=result, by=person)
    for answer in Answer.objects.filter(by_id=person.pk).select_related("question"):
        talking.take_answer_back(answer=answer, by=person)
    for question in Question.objects.filter(by_id=person.pk):
        talking.take_question_back(question=question, by=person)


BELONGINGS = Belongings(
    title="Questions and results",
    fields={
        "procedures.Question.by": "unnamed",
        "procedures.Question.hidden_by": "unnamed",
        "procedures.Answer.by": "unnamed",
        "procedures.Answer.hidden_by": "unnamed",
        "procedures.Result.by": "unnamed",
        "procedures.Result.hidden_by": "unnamed",
        "procedures.Thanks.by": "deleted",
        "procedures.NewsSeen.user": "deleted",
        "procedures.NewsRead.user": "deleted",
    },
    gather=gather,
    told=told,
    erase=erase,
)
