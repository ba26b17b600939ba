"""Revisions: each read and cited at its own address for ever, listed, its figures held, and withdrawn."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_http_methods, require_safe

from procedures import actions, editing, frozen, queries
from procedures.access import (
    MemberRequest,
    code_reader,
    may_manage,
    procedure_manager,
    procedure_reader,
    readable_revision,
)
from procedures.actions import Refused
from procedures.engine.replay import replay
from procedures.forms.sharing import WithdrawForm
from procedures.limits import limited
from procedures.models import FrozenReport, Procedure, Revision
from procedures.presenting.kept import kept
from procedures.report import report

from .reading import page_of
from .wanted import Wanted, pinned, readable

HTML = "procedures/revisions/"
MOST_SHOWN = 200  # differences on a page; the command reports all


@procedure_reader
@readable
@require_safe
def revision(request: HttpRequest, procedure: Procedure, number: int) -> HttpResponse:
    """Who may read it: one revision, whatever was published since; a stone where it was withdrawn."""
    return page_of(request, pinned(request, procedure, str(number)))


@procedure_reader
@require_safe
def revisions(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: all revisions, with what changed; of those withdrawn, that they were and why."""
    found = queries.revisions_of(procedure)
    context = {
        "procedure": procedure,
        "revisions": found,
        "standing": [one for one in found if not (one.withdrawn or one.hidden)],
        "is_owner": may_manage(request.user, procedure),
    }
    return render(request, HTML + "list.html", context)


@code_reader
@require_safe
def cited(request: HttpRequest, revision: Revision) -> HttpResponse:
    """Who may read it: on from the short address to the revision."""
    return redirect(revision)


@procedure_reader
@readable
@require_safe
def figures(request: HttpRequest, procedure: Procedure, number: int) -> HttpResponse:
    """Who may read it: whether the engine of today still reckons the figures that were published."""
    wanted = pinned(request, procedure, str(number))
    assert wanted.revision is not None
    key = wanted.key("figures", wanted.revision.frames_digest)
    body = kept(key, lambda: render_to_string(HTML + "_figures.html", _held(wanted)))
    return render(request, HTML + "figures.html", {"procedure": procedure, "wanted": wanted, "body": body})


def _held(wanted: Wanted) -> dict[str, Any]:
    assert wanted.revision is not None
    today = report(replay(wanted.document))
    same = editing.digest(today) == wanted.revision.frames_digest
    held = FrozenReport.objects.filter(revision=wanted.revision).first()
    found = list(frozen.differences(frozen.unpack(held.packed), today)) if held and not same else []
    changed = [one for one in found if one.is_figure]
    return {
        "same": same or (held is not None and not found),
        "is_held": held is not None,
        "changed": changed[:MOST_SHOWN],
        "more": max(len(changed) - MOST_SHOWN, 0),
        "words": len(found) - len(changed),
    }


@procedure_manager
@limited("publish")
@require_http_methods(["GET", "HEAD", "POST"])
def withdraw(request: MemberRequest, procedure: Procedure, number: int) -> HttpResponse:
    """Owner, and the keepers of its guild: show a revision no longer, saying why."""
    found = readable_revision(request.user, procedure, str(number))
    form = WithdrawForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            actions.withdraw_revision(
                procedure=procedure, revision=found, reason=form.cleaned_data["reason"], by=request.user
            )
            messages.success(request, f"Revision {number} is withdrawn.")
            return redirect("procedures:revisions", procedure.slug)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    others = procedure.revisions.filter(withdrawn=None, hidden=None).exclude(pk=found.pk).exists()
    context = {"procedure": procedure, "form": form, "revision": found, "others": others}
    return render(request, HTML + "withdraw.html", context, status=422 if form.is_bound else 200)
