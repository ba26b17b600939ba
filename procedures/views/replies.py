"""Answers to questions: given, changed, taken back, accepted, and folded into the draft."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from procedures import actions
from procedures.access import (
    MemberRequest,
    answer_of,
    may_change,
    may_settle,
    procedure_editor,
    procedure_reader,
    question_of,
    signed_in,
)
from procedures.actions import Refused
from procedures.forms.talk import AnswerForm
from procedures.limits import limited
from procedures.models import Answer, Procedure

from .questions import reworded, thread


@signed_in
@procedure_reader
@limited("talk")
@require_POST
def answer(request: MemberRequest, procedure: Procedure, question: int) -> HttpResponse:
    """Signed in, who may read it: answer a question."""
    found = question_of(request.user, procedure, question)
    form = AnswerForm(request.POST)
    if form.is_valid():
        try:
            given = actions.answer(question=found, words=form.cleaned_data["words"], by=request.user)
            messages.success(request, "Your answer is there.")
            return redirect(given)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    return thread(request, found, form)


@signed_in
@procedure_reader
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_answer(request: MemberRequest, procedure: Procedure, answer: int) -> HttpResponse:
    """Who answered: say it in other words."""
    found = _own(request, procedure, answer)
    return reworded(request, found, AnswerForm, found.get_absolute_url())


@signed_in
@procedure_reader
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def delete_answer(request: MemberRequest, procedure: Procedure, answer: int) -> HttpResponse:
    """Who answered: take the answer back, after being asked once more."""
    found = _own(request, procedure, answer)
    if request.method == "POST":
        actions.take_answer_back(answer=found, by=request.user)
        messages.success(request, "The answer was taken back.")
        return redirect(found.question)
    context = {
        "heading": "Take this answer back?",
        "text": "Your words and your name go, and a note stays that it was deleted by its writer. What the "
        "author took into the procedure stays there, with its credit.",
        "action_url": request.path,
        "action": "Take it back",
        "cancel_url": found.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)


@signed_in
@procedure_reader
@limited("talk")
@require_POST
def accept(request: MemberRequest, procedure: Procedure, answer: int) -> HttpResponse:
    """Who asked, and the author: take an answer for the one that helped, or no longer."""
    found = answer_of(request.user, procedure, answer)
    if not may_settle(request.user, found.question):
        raise Http404("There is no such answer to a question of yours here.")
    try:
        if "none" in request.POST:
            actions.accept_none(question=found.question, by=request.user)
        else:
            actions.accept(answer=found, by=request.user)
            messages.success(request, "Accepted.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect(found)


@procedure_editor
@limited("talk")
@require_POST
def fold(request: MemberRequest, procedure: Procedure, answer: int) -> HttpResponse:
    """Owner: add an answer to the note of its step in the draft."""
    found = answer_of(request.user, procedure, answer)
    try:
        actions.fold(answer=found, by=request.user)
        messages.success(
            request, "It is in the step’s note in your draft. Undo takes it out; publish to share it."
        )
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect(found)


def _own(request: MemberRequest, procedure: Procedure, pk: int) -> Answer:
    found = answer_of(request.user, procedure, pk)
    if not may_change(request.user, found):
        raise Http404("There is no such answer of yours here.")
    return found
