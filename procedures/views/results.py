"""Results: that a revision was forged and how it went, told by who did, and all of them beside the plan."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions
from procedures.access import (
    MemberRequest,
    may_change,
    may_edit,
    may_thank,
    procedure_reader,
    readable_revision,
    result_of,
    run_reader,
    signed_in,
)
from procedures.actions import Refused
from procedures.doubting import doubts
from procedures.engine import document as engine_document
from procedures.forms.result import ResultForm
from procedures.forms.talk import ResultPhotoForm
from procedures.limits import limited
from procedures.models import Procedure, Result, Revision, Run
from procedures.predicting import Place, Prediction
from procedures.presenting.edition import content_key
from procedures.presenting.kept import kept
from procedures.presenting.results import bars_told, photos_told, step_named
from procedures.presenting.strips import step_strips
from procedures.queries import readable_revision as revision_read
from procedures.queries import talk

from .questions import paged
from .wanted import readable, units_of

HTML = "procedures/talk/"


@procedure_reader
@readable
@require_safe
def results(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: all results, and what was measured beside what one revision predicts."""
    forged = talk.revisions_forged(procedure)
    chosen = _chosen(request, procedure, forged)
    readings = talk.readings_of(procedure, chosen, predict=predicted) if chosen else []
    page = paged(request, talk.results_of(procedure, reader=request.user))
    context = {
        "procedure": procedure,
        "forged": forged,
        "total": sum(number for _, number in forged),
        "chosen": chosen,
        "steps": step_strips(readings, chosen.document, units_of(request)) if chosen else [],
        "is_cut": len(readings) >= talk.MOST_READINGS,
        "page": page,
        "rows": [_told(one, request) for one in page],
        "may_report": procedure.latest is not None,
    }
    return render(request, HTML + "results.html", context)


@procedure_reader
@readable
@require_safe
def result(request: HttpRequest, procedure: Procedure, result: int) -> HttpResponse:
    """Who may read it: one result."""
    return shown_result(request, result_of(request.user, procedure, result))


@signed_in
@procedure_reader
@readable
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def report_result(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Signed in, who may read it: report a piece that was forged by a revision."""
    number = request.POST.get("revision") or request.GET.get("revision")
    revision = (
        readable_revision(request.user, procedure, number)
        if number
        else revision_read(procedure, request.user) or procedure.latest
    )
    if revision is None:
        raise Http404("Only what is published has results.")
    document = engine_document.read(revision.document, draft=True)
    data = request.POST if request.method == "POST" else None
    form = ResultForm(data, document=document, units=units_of(request))
    if form.is_valid():
        try:
            made = actions.report_result(revision=revision, report=form.report, by=request.user)
            messages.success(request, "Your result is there. Add photos to it if you have some.")
            return redirect(made)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    context = {"procedure": procedure, "revision": revision, "form": form, "back": _all(procedure)}
    return render(request, HTML + "result_form.html", context, status=422 if form.is_bound else 200)


@signed_in
@procedure_reader
@readable
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_result(request: MemberRequest, procedure: Procedure, result: int) -> HttpResponse:
    """Who reported it: say it otherwise."""
    found = own_result(request, procedure, result)
    document = engine_document.read(found.revision.document, draft=True)
    data = request.POST if request.method == "POST" else None
    form = ResultForm(data, document=document, units=units_of(request), result=found)
    if form.is_valid():
        try:
            actions.edit_result(result=found, report=form.report, by=request.user)
            messages.success(request, "Changed.")
            return redirect(found)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    back = found.get_absolute_url()
    context = {
        "procedure": procedure,
        "revision": found.revision,
        "form": form,
        "back": back,
        "result": found,
    }
    return render(request, HTML + "result_form.html", context, status=422 if form.is_bound else 200)


@signed_in
@procedure_reader
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def delete_result(request: MemberRequest, procedure: Procedure, result: int) -> HttpResponse:
    """Who reported it: delete a result, after being asked once more."""
    found = own_result(request, procedure, result)
    if request.method == "POST":
        actions.take_result_back(result=found, by=request.user)
        messages.success(request, "The result was deleted.")
        return redirect(_all(procedure))
    context = {
        "heading": "Delete this result?",
        "text": "Its words, its photos and what was measured go. The run it was made from stays yours.",
        "action_url": request.path,
        "action": "Delete the result",
        "cancel_url": found.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)


@run_reader
@limited("talk")
@require_POST
def report_run(request: MemberRequest, run: Run) -> HttpResponse:
    """Whose run it is: report it as a result, in one press, or two where something looks like a slip."""
    if run.owner_id != request.user.pk:
        raise Http404("There is no such run of yours here.")
    try:
        told = actions.report_of_run(run)
        assert run.revision is not None
        document = engine_document.read(run.revision.document, draft=True)
        asked = doubts(document, told.report.readings, (), units_of(request))
        if asked and "sure" not in request.POST:
            return _ask_about(request, run, asked)
        made = actions.report_result(revision=run.revision, report=told.report, run=run, by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect(run)
    said = "Your run is a result now. Add how it went, and photos."
    if told.left_out:
        said += f" {told.left_out} of its sizes could not be read and were left out."
    if told.was_ahead:
        said += " The phone’s clock was ahead: today’s date stands there."
    messages.success(request, said)
    return redirect(made)


def _ask_about(request: MemberRequest, run: Run, asked: list[str]) -> HttpResponse:
    context = {
        "heading": "Is this right?",
        "text": "Some sizes of this run look like slips. If you did measure them, report it as it is.",
        "losses": asked,
        "hidden": [("sure", "1")],
        "action_url": request.path,
        "action": "It is so: report it",
        "cancel_url": run.get_absolute_url(),
    }
    return render(request, "components/confirm_page.html", context, status=422)


def shown_result(request: HttpRequest, found: Result, form: ResultPhotoForm | None = None) -> HttpResponse:
    """Return the page of a result, with the form to add a photo for its writer."""
    readings = talk.readings_of_result(found, predicted(found.revision))
    context = {
        "procedure": found.procedure,
        "row": _told(found, request),
        "steps": step_strips(readings, found.revision.document, units_of(request)),
        "thanked": talk.thanked("result", [found], request.user)[found.pk],
        "may_thank": may_thank(request.user, found),
        "thanks_key": f"result-{found.pk}",
        "is_mine": may_change(request.user, found),
        "form": form or ResultPhotoForm(),
    }
    return render(request, HTML + "result.html", context, status=422 if form else 200)


def own_result(request: MemberRequest, procedure: Procedure, pk: int) -> Result:
    """Return a result of this user's own. Raises Http404."""
    found = result_of(request.user, procedure, pk)
    if not may_change(request.user, found):
        raise Http404("There is no such result of yours here.")
    return found


def predicted(revision: Revision) -> Mapping[Place, Prediction]:
    """Return what a revision predicts of what can be measured, kept by its content."""

    def made() -> str:
        found = talk.predicted_by(revision).items()
        return json.dumps(
            [[one.part, one.step, one.kind, one.branch, one.quantity, *_three(said)] for one, said in found]
        )

    rows = json.loads(kept(content_key("predicted", revision.digest), made))
    return {Place(*row[:5]): Prediction(*row[5:]) for row in rows}


def _three(said: Prediction) -> tuple[float, float, float]:
    return said.typical, said.low, said.high


def _chosen(
    request: HttpRequest, procedure: Procedure, forged: list[tuple[Revision, int]]
) -> Revision | None:
    """Return the revision whose sizes are shown: the one asked for, or the newest that was forged."""
    asked = request.GET.get("revision")
    standing = [
        one for one, _ in forged if not (one.withdrawn or one.hidden) or may_edit(request.user, procedure)
    ]
    return next((one for one in standing if str(one.number) == asked), standing[0] if standing else None)


def _told(found: Result, request: HttpRequest) -> dict[str, Any]:
    """Return a result as pages show it."""
    return {
        "result": found,
        "bars": bars_told(found, units_of(request)),
        "photos": photos_told(found),
        "wrong_at": step_named(found.revision.document, found.wrong_part, found.wrong_step),
    }


def _all(procedure: Procedure) -> str:
    return reverse("procedures:results", args=[procedure.slug])
