"""Runs: what phones send of them, and what their owners and teachers see."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions
from procedures.access import MemberRequest, anyone, run_reader, signed_in
from procedures.actions import NotYours, Refused
from procedures.limits import limited
from procedures.models import Result, Run
from procedures.presenting.runs import shown_run
from procedures.queries import runs as run_queries

LARGEST = 2_000_000  # bytes of what is sent at once
ON_A_PAGE = 30


@anyone
@csrf_exempt  # the run's own key lets in, and JSON cannot be sent from another site without being asked for
@require_POST
@limited("send")
def take_in_run(request: HttpRequest, run: UUID) -> JsonResponse:
    """Who has the key of the run: add what the phone has; the answer says what is safely here."""
    sent = _sent(request)
    if isinstance(sent, JsonResponse):
        return sent
    try:
        taken = actions.take_in_run(run_id=run, sent=sent, by=request.user)
    except NotYours as refused:
        return _fault(refused, 403)
    except Refused as refused:
        return _fault(refused, 409)
    course = taken.run.course
    return JsonResponse(
        {
            "have": taken.have,
            "signed": run_queries.gates_signed(taken.run),
            "course": {"title": course.title, "open": course.ended is None} if course else None,
            "account": taken.run.owner_id is not None,
        }
    )


@anyone
@csrf_exempt
@require_POST
@limited("send")
def forget_run(request: HttpRequest, run: UUID) -> JsonResponse:
    """Who has the key of the run: delete it here, as it was on the phone."""
    sent = _sent(request)
    if isinstance(sent, JsonResponse):
        return sent
    try:
        actions.forget_run(run_id=run, key=str(sent.get("key", "")))
    except NotYours as refused:
        return _fault(refused, 403)
    return JsonResponse({"forgotten": True})


def _sent(request: HttpRequest) -> dict[str, Any] | JsonResponse:
    if request.content_type != "application/json":
        return JsonResponse({"fault": "Send JSON."}, status=415)
    if int(request.headers.get("Content-Length") or 0) > LARGEST:
        return JsonResponse({"fault": "That is too much at once."}, status=413)
    try:
        sent = json.loads(request.body)
    except (ValueError, RecursionError):
        sent = None
    if not isinstance(sent, dict):
        return JsonResponse({"fault": "What was sent does not read."}, status=400)
    return sent


def _fault(refused: Exception, status: int) -> JsonResponse:
    return JsonResponse({"fault": str(refused)}, status=status)


@signed_in
@require_safe
def runs(request: MemberRequest) -> HttpResponse:
    """Signed in: one's own runs, and one's classes."""
    page = Paginator(run_queries.own_runs(request.user), ON_A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "courses": run_queries.own_courses(request.user)}
    return render(request, "procedures/runs/list.html", context)


@run_reader
@require_safe
def run(request: MemberRequest, run: Run) -> HttpResponse:
    """Who made it, and the teacher: the log of a run, step by step."""
    result = Result.objects.select_related("procedure").filter(run=run).first()
    context = {"run": run, "shown": shown_run(run, request.user), "result": result}
    return render(request, "procedures/runs/page.html", context)


@run_reader
@require_safe
def run_json(request: MemberRequest, run: Run) -> JsonResponse:
    """Who made it, and the teacher: all of a run as JSON."""
    response = JsonResponse(
        run_queries.whole_run(run), json_dumps_params={"ensure_ascii": False, "indent": 2}
    )
    response["Content-Disposition"] = f'attachment; filename="run-{run.pk}.json"'
    return response


@run_reader
@require_http_methods(["GET", "HEAD", "POST"])
def delete_run(request: MemberRequest, run: Run) -> HttpResponse:
    """Who made it, and the teacher: delete a run, after being asked once more."""
    if request.method == "POST":
        back = run.course.get_absolute_url() if run.course and run.owner_id != request.user.pk else None
        actions.delete_run(run=run, by=request.user)
        messages.success(request, "The run was deleted.")
        return redirect(back or "procedures:runs")
    context = {
        "heading": "Delete this run?",
        "text": "Its log goes from the site. What the phone has stays there until it is removed there.",
        "action_url": reverse("procedures:delete_run", args=[run.pk]),
        "action": "Delete the run",
        "cancel_url": run.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)
