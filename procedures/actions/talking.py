"""Questions and answers on steps, and thanks: said, changed, taken back, accepted, folded into the draft."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from procedures import editing
from procedures.editing import NoSuchPlace, Stored
from procedures.engine.catalogue import find
from procedures.models import Answer, Procedure, Question, QuestionsClosed, Result, Revision, Thanks
from procedures.models.talk import STEP_LIMIT, Said
from procedures.standing import keep_apart

from .adapting import MOST_CREDITS
from .saving import Change, Refused, altered, locked, save

MOST_ANSWERS = 500  # to one question


# -- asking and answering ----------------------------------------------------------------------------


@transaction.atomic
def ask(*, revision: Revision, part: str, step: str, words: str, by: AbstractBaseUser) -> Question:
    """Ask about a step of a revision. Raises Refused."""
    whose = revision.procedure
    is_closed = QuestionsClosed.objects.filter(procedure=whose).exists()
    if is_closed or keep_apart(by, whose.owner_id, whose.writer_id):  # nobody is told that they are shut out
        raise Refused("The author takes no more questions on this procedure.")
    return Question.objects.create(
        procedure=revision.procedure,
        revision=revision,
        part=part,
        step=step,
        step_was=step_told(revision.document, part, step),
        words=words,
        by_id=by.pk,
    )


def step_told(document: Mapping[str, Any], part: str, step: str) -> str:
    """Return what a step is, to be read when it is gone: "Step 3, Draw out (Bar)". Raises Refused."""
    try:
        one, number = editing.step_of(document, part, step), editing.step_index(document, part, step) + 1
    except NoSuchPlace as error:
        raise Refused("There is no such step in this revision.") from error
    kind = find(one["operation"])
    title = kind.title if kind else one["operation"]
    return f"Step {number}, {title} ({editing.part_of(document, part)['name']})"[:STEP_LIMIT]


@transaction.atomic
def answer(*, question: Question, words: str, by: AbstractBaseUser) -> Answer:
    """Answer a question. Raises Refused."""
    found = _held(question)
    if not found.stands:
        raise Refused("This question was taken back, so it is answered no more.")
    if keep_apart(by, found.by_id, found.procedure.owner_id):
        raise Refused("This question takes no more answers.")
    if found.answers.count() >= MOST_ANSWERS:
        raise Refused(f"This question has {MOST_ANSWERS} answers, and takes no more. Ask a narrower one.")
    return Answer.objects.create(question=found, words=words, by_id=by.pk)


@transaction.atomic
def reword(*, said: Said, words: str, by: AbstractBaseUser) -> Said:
    """Say it in other words. Raises Refused where it no longer stands."""
    found = type(said)._default_manager.select_for_update().get(pk=said.pk)
    if not found.stands:
        raise Refused("It was taken back or hidden meanwhile, so it cannot be changed.")
    if found.words != words:
        found.words, found.edited = words, timezone.now()
        found.save(update_fields=("words", "edited"))
    return found


@transaction.atomic
def take_question_back(*, question: Question, by: AbstractBaseUser) -> None:
    """Take a question back; where it was answered, that there was one stays, for the sense of the answers."""
    found = _held(question)
    if not found.answers.exists():
        found.delete()
        return
    _emptied(found)


@transaction.atomic
def take_answer_back(*, answer: Answer, by: AbstractBaseUser) -> None:
    """Take an answer back; its place stays, and it is accepted no longer. What was folded in stays there."""
    question = _held(answer.question)
    found = Answer.objects.get(pk=answer.pk)
    if question.accepted_id == found.pk:
        question.accepted = None
        question.save(update_fields=("accepted",))
    found.thanks.all().delete()
    _emptied(found)


def _emptied(said: Said) -> None:
    said.words, said.by, said.deleted = "", None, timezone.now()
    said.save(update_fields=("words", "by", "deleted"))


@transaction.atomic
def accept(*, answer: Answer, by: AbstractBaseUser) -> Question:
    """Take an answer for the one that helped, in place of any other. Raises Refused."""
    question = _held(answer.question)
    if not Answer.objects.get(pk=answer.pk).stands:
        raise Refused("This answer was taken back.")
    question.accepted = answer
    question.save(update_fields=("accepted",))
    return question


@transaction.atomic
def accept_none(*, question: Question, by: AbstractBaseUser) -> Question:
    """Leave a question open again."""
    found = _held(question)
    found.accepted = None
    found.save(update_fields=("accepted",))
    return found


@transaction.atomic
def close_questions(*, procedure: Procedure, by: AbstractBaseUser) -> None:
    """Take no more questions on a procedure; those there are stay, and are still answered."""
    QuestionsClosed.objects.get_or_create(procedure=procedure)


@transaction.atomic
def open_questions(*, procedure: Procedure, by: AbstractBaseUser) -> None:
    """Take questions on a procedure again."""
    QuestionsClosed.objects.filter(procedure=procedure).delete()


def _held(question: Question) -> Question:
    """Return a question as it is now, held until the transaction ends. Raises Refused when it is gone."""
    found = Question.objects.select_for_update().filter(pk=question.pk).first()
    if found is None:
        raise Refused("This question was taken back.")
    return found


# -- folding an answer into the draft ----------------------------------------------------------------


@transaction.atomic
def fold(*, answer: Answer, by: AbstractBaseUser) -> Procedure:
    """Add an answer to the note of its step in the draft, its writer credited: one edit. Raises Refused."""
    question = answer.question
    draft = locked(question.procedure)
    found = Answer.objects.select_for_update().get(pk=answer.pk)
    if not found.stands or found.by is None:
        raise Refused("This answer was taken back or hidden, so it cannot be folded in.")
    if is_folded(found, draft.document, question):
        raise Refused("This answer is in your draft already.")
    name = found.by.get_username()
    found.as_folded = f"{found.words}\n\n*{credit_mark(found)}*"

    def noted(step: Stored) -> Stored:
        note = step.get("note", "")
        return {**step, "note": f"{note}\n\n{found.as_folded}" if note else found.as_folded}

    document = altered(
        draft.document, lambda one: editing.with_step(one, question.part, question.step, noted)
    )
    change = Change(f"Answer by {name} folded in", part=question.part, step=question.step)
    save(draft, _crediting(document, draft, name), change, by)
    found.folded = timezone.now()
    found.save(update_fields=("folded", "as_folded"))
    return draft


def credit_mark(answer: Answer) -> str:
    """Return the line that stands under an answer in a note, and that it is found there by."""
    name = answer.by.get_username() if answer.by else "a reader"
    return f"{name}, answer {answer.pk}"


def is_folded(answer: Answer, document: Mapping[str, Any], question: Question) -> bool:
    """Whether the note of a step has an answer: its words, or the line that credits it."""
    if answer.folded is None:
        return False
    try:
        note = editing.step_of(document, question.part, question.step).get("note", "")
    except NoSuchPlace:
        return False
    credit = answer.as_folded.rpartition("\n\n")[2]
    return answer.as_folded in note or (bool(credit) and credit in note)


def note_taken(*, procedure: Procedure, revision: Revision) -> None:
    """Write down which folded answers a revision that was just published has."""
    for one in Answer.objects.filter(question__procedure=procedure, taken_into=None, folded__isnull=False):
        if is_folded(one, revision.document, one.question):
            one.taken_into = revision
            one.save(update_fields=("taken_into",))


def _crediting(document: Stored, procedure: Procedure, name: str) -> Stored:
    """Return the document with a line of credit for who answered, where there is room for one more."""
    names = document.get("credits", [])
    line = f"{name}: answers"[:120]
    if line in names or len(names) >= MOST_CREDITS or procedure.author == name:
        return document
    return editing.with_details(document, {"credits": [*names, line]})


# -- thanks ------------------------------------------------------------------------------------------


@transaction.atomic
def thank(*, thing: Procedure | Answer | Result, named: bool, by: AbstractBaseUser) -> Thanks:
    """Thank for something, once. Raises Refused."""
    whose = (thing.owner_id, thing.writer_id) if isinstance(thing, Procedure) else (thing.by_id,)
    if by.pk in whose:
        raise Refused("Thanks are for others to give.")
    if keep_apart(by, *whose):
        raise Refused("No more thanks are taken here.")
    if not isinstance(thing, Procedure) and not thing.stands:
        raise Refused("It was taken back, so it is thanked for no more.")
    kind = type(thing).__name__.lower()
    found, made = Thanks.objects.get_or_create(by_id=by.pk, **{kind: thing}, defaults={"is_named": named})
    if not made and found.is_named != named:
        found.is_named = named
        found.save(update_fields=("is_named",))
    return found


@transaction.atomic
def take_thanks_back(*, thing: Procedure | Answer | Result, by: AbstractBaseUser) -> None:
    """Thank no longer."""
    thing.thanks.filter(by_id=by.pk).delete()
