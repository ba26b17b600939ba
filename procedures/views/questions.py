"""Questions on the steps of what is published: asked, read, changed and taken back."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Page, Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django.views.decorators.vary import vary_on_headers

from procedures import actions, editing
from procedures.access import (
    MemberRequest,
    may_change,
    may_edit,
    may_manage,
    may_settle,
    may_thank,
    procedure_manager,
    procedure_reader,
    question_of,
    readable_revision,
    signed_in,
)
from procedures.actions import Refused
from procedures.actions.talking import is_folded, step_told
from procedures.forms.talk import AnswerForm, QuestionForm, WordsForm
from procedures.limits import limited
from procedures.models import Procedure, Question, Revision
from procedures.queries import readable_revision as revision_read
from procedures.queries import talk

HTML = "procedures/talk/"
ON_A_PAGE = 20


@procedure_reader
@require_safe
def questions(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: all questions on it, the newest first."""
    page = paged(request, talk.questions_of(procedure, reader=request.user))
    context = {
        "procedure": procedure,
        "page": page,
        "is_owner": may_manage(request.user, procedure),
        "is_closed": talk.are_questions_closed(procedure),
        "gone": _gone(procedure, page),
    }
    return render(request, HTML + "questions.html", context)


@procedure_reader
@require_safe
@vary_on_headers("HX-Request")
def step_questions(request: HttpRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Who may read it: the questions on a step, as a page, or as what folds out under the step."""
    return _of_step(request, procedure, part, step)


@signed_in
@procedure_reader
@limited("talk")
@require_POST
def ask(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Signed in, who may read it: ask about a step of a revision."""
    form = QuestionForm(request.POST, auto_id=_ids(part, step))
    if form.is_valid():
        try:
            revision = _asked_revision(request, procedure)
            if revision is None:
                raise Refused("Only what is published is asked about.")
            asked = actions.ask(
                revision=revision, part=part, step=step, words=form.cleaned_data["words"], by=request.user
            )
            if not request.htmx:
                messages.success(request, "Your question is asked. The author finds it in the news.")
                return redirect(asked)
            return _of_step(request, procedure, part, step, said="Your question is asked.")
        except Refused as refusal:
            form.add_error(None, str(refusal))
    return _of_step(request, procedure, part, step, form)


@procedure_reader
@require_safe
def question(request: HttpRequest, procedure: Procedure, question: int) -> HttpResponse:
    """Who may read it: a question with its answers."""
    return thread(request, question_of(request.user, procedure, question))


@signed_in
@procedure_reader
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_question(request: MemberRequest, procedure: Procedure, question: int) -> HttpResponse:
    """Who asked: say it in other words."""
    found = _own(request, procedure, question)
    return reworded(request, found, QuestionForm, found.get_absolute_url())


@signed_in
@procedure_reader
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def delete_question(request: MemberRequest, procedure: Procedure, question: int) -> HttpResponse:
    """Who asked: take the question back, after being asked once more."""
    found = _own(request, procedure, question)
    if request.method == "POST":
        actions.take_question_back(question=found, by=request.user)
        messages.success(request, "The question was taken back.")
        return redirect("procedures:questions", procedure.slug)
    context = {
        "heading": "Take this question back?",
        "text": "Your words and your name go. Where there are answers, they stay, with a note that the "
        "question was deleted by its writer.",
        "action_url": request.path,
        "action": "Take it back",
        "cancel_url": found.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)


@procedure_manager
@limited("talk")
@require_POST
def close_questions(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner: take no more questions on it, or take them again."""
    if "open" in request.POST:
        actions.open_questions(procedure=procedure, by=request.user)
        messages.success(request, "Questions are taken again.")
    else:
        actions.close_questions(procedure=procedure, by=request.user)
        messages.success(request, "No more questions are taken. Those there are stay.")
    return redirect("procedures:questions", procedure.slug)


def thread(request: HttpRequest, found: Question, form: AnswerForm | None = None) -> HttpResponse:
    """Return the page of a question with its answers, and with the form to answer it."""
    procedure, user = found.procedure, request.user
    page = paged(request, talk.answers_of(found, reader=request.user))
    is_owner = may_edit(user, procedure)
    thanks = talk.thanked("answer", page, user)
    context = {
        "procedure": procedure,
        "question": found,
        "page": page,
        "is_owner": is_owner,
        "is_mine": may_change(user, found),
        "may_settle": may_settle(user, found),
        "form": form or AnswerForm(),
        "rows": [
            {
                "answer": one,
                "is_mine": may_change(user, one),
                "is_accepted": one.pk == found.accepted_id,
                "is_folded": is_owner and is_folded(one, procedure.document, found),
                "taken": f"Taken into revision {one.taken_into.number}" if one.taken_into else "",
                "thanked": thanks[one.pk],
                "may_thank": may_thank(user, one),
                "key": f"answer-{one.pk}",
            }
            for one in page
        ],
        "is_gone": bool(_gone(procedure, [found])),
    }
    return render(request, HTML + "question.html", context, status=422 if form else 200)


def reworded(request: MemberRequest, said: Any, kind: type[WordsForm], back: str) -> HttpResponse:
    """Show the words of something said, to be changed by its writer, or save them."""
    form = kind(request.POST if request.method == "POST" else None, initial={"words": said.words})
    if form.is_valid():
        try:
            actions.reword(said=said, words=form.cleaned_data["words"], by=request.user)
            messages.success(request, "Changed.")
            return redirect(back)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    context = {"form": form, "back": back, "what": type(said).__name__.lower()}
    return render(request, HTML + "reword.html", context, status=422 if form.is_bound else 200)


def paged(request: HttpRequest, found: Any, most: int = ON_A_PAGE) -> Page[Any]:
    """Return the page of a list that a request asks for."""
    return Paginator(found, most).get_page(request.GET.get("page"))


def _of_step(
    request: HttpRequest,
    procedure: Procedure,
    part: str,
    step: str,
    form: QuestionForm | None = None,
    said: str = "",
) -> HttpResponse:
    revision = _asked_revision(request, procedure)
    page = paged(request, talk.questions_of(procedure, part, step, reader=request.user))
    title = _step_title(revision, part, step)
    if not title and not page.object_list:
        raise Http404("There is no such step here.")
    context = {
        "procedure": procedure,
        "revision": revision,
        "part": part,
        "step": step,
        "title": title or page.object_list[0].step_was,
        "is_there": bool(title),
        "is_closed": talk.are_questions_closed(procedure),
        "page": page,
        "form": form or QuestionForm(auto_id=_ids(part, step)),
        "said": said,
        "address": reverse("procedures:step_questions", args=[procedure.slug, part, step]),
    }
    template = "_step.html" if request.htmx else "step.html"  # type: ignore[attr-defined]
    return render(request, HTML + template, context, status=422 if form else 200)


def _asked_revision(request: HttpRequest, procedure: Procedure) -> Revision | None:
    """Return the revision that is asked about: the one that is named, or the one that is read."""
    number = request.POST.get("revision") or request.GET.get("revision")
    if number:
        return readable_revision(request.user, procedure, number)
    return revision_read(procedure, request.user) or procedure.latest


def _step_title(revision: Revision | None, part: str, step: str) -> str:
    """Return what a step of a revision is, "" where there is none such."""
    try:
        return step_told(revision.document, part, step) if revision else ""
    except Refused:
        return ""


def _gone(procedure: Procedure, asked: Any) -> set[int]:
    """Return which of these questions are on steps that the latest revision has no more."""
    if not procedure.latest or not asked:
        return set()
    parts = procedure.latest.document["parts"]
    there = {(part["key"], step["key"]) for part in parts for step in part.get("steps", ())}
    return {one.pk for one in asked if (one.part, one.step) not in there}


def _own(request: MemberRequest, procedure: Procedure, pk: int) -> Question:
    found = question_of(request.user, procedure, pk)
    if not may_change(request.user, found):
        raise Http404("There is no such question of yours here.")
    return found


def _ids(part: str, step: str) -> str:
    """Return the pattern of ids, which differs by step: several forms may stand on one page."""
    return f"id_{editing.key_from(part)}-{editing.key_from(step)}_%s"
