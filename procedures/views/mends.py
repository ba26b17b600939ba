"""Letting a finding stand with a reason, and taking that back."""

from __future__ import annotations

from django.http import HttpResponse
from django.views.decorators.http import require_POST

from procedures import actions
from procedures.access import MemberRequest, procedure_editor
from procedures.actions import Refused
from procedures.models import Procedure

from .answers import moved_on, readable_draft, turned_down
from .bench import Bench


@procedure_editor
@readable_draft
@require_POST
def silence(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: let the findings of the `code` posted stand, for its `reason-...`; or `lift` that of a code."""
    data = request.POST
    try:
        if "lift" in data:
            said = "It speaks again"
            saved = actions.lift_silence(
                procedure=procedure, part=part, step=step, code=data["lift"], by=request.user
            )
        else:
            said = "Let stand"
            code = data.get("code", "")
            saved = actions.silence_finding(
                procedure=procedure,
                part=part,
                step=step,
                code=code,
                reason=next((one for one in data.getlist(f"reason-{code}") if one.strip()), ""),
                by=request.user,
            )
    except Refused as refusal:
        return turned_down(Bench(request, procedure, part, step), str(refusal))
    return moved_on(Bench(request, saved, part, step), said)
