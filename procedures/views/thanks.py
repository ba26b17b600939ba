"""Thanks, by one press: for a procedure, an answer or a result."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from procedures import actions
from procedures.access import MemberRequest, answer_of, procedure_reader, result_of, signed_in
from procedures.actions import Refused
from procedures.limits import limited
from procedures.models import Answer, Procedure, Result
from procedures.queries import talk


@signed_in
@procedure_reader
@limited("thank")
@require_POST
def thank(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Signed in, who may read it: thank for it."""
    return _thanked(request, procedure, procedure)


@signed_in
@procedure_reader
@limited("thank")
@require_POST
def thank_answer(request: MemberRequest, procedure: Procedure, answer: int) -> HttpResponse:
    """Signed in, who may read it: thank for an answer."""
    return _thanked(request, procedure, answer_of(request.user, procedure, answer))


@signed_in
@procedure_reader
@limited("thank")
@require_POST
def thank_result(request: MemberRequest, procedure: Procedure, result: int) -> HttpResponse:
    """Signed in, who may read it: thank for a result."""
    return _thanked(request, procedure, result_of(request.user, procedure, result))


def _thanked(
    request: MemberRequest, procedure: Procedure, thing: Procedure | Answer | Result
) -> HttpResponse:
    try:
        if "back" in request.POST:
            actions.take_thanks_back(thing=thing, by=request.user)
        else:
            actions.thank(thing=thing, named="named" in request.POST, by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect(thing)
    if not request.htmx:
        return redirect(thing)
    kind = type(thing).__name__.lower()
    name = {"procedure": "thank", "answer": "thank_answer", "result": "thank_result"}[kind]
    more = [] if isinstance(thing, Procedure) else [thing.pk]
    context = {
        "thanked": talk.thanked(kind, [thing], request.user)[thing.pk],
        "address": reverse(f"procedures:{name}", args=[procedure.slug, *more]),
        "may_thank": True,
        "user": request.user,
        "what": kind,
        "key": f"{kind}-{thing.slug if isinstance(thing, Procedure) else thing.pk}",
    }
    return render(request, "procedures/talk/_thanks.html", context)
