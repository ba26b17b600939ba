"""Adapting what others published: into a draft of one's own, and what the original changed since."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from procedures import actions, queries
from procedures.access import MemberRequest, may_read, procedure_editor, procedure_reader, readable_revision
from procedures.actions import Refused
from procedures.engine import document as engine_document
from procedures.engine.document import LICENCES
from procedures.licences import ASKS
from procedures.limits import limited
from procedures.merging import changes
from procedures.models import Adaptation, Procedure, Revision
from procedures.presenting.adapting import ShownChange, shown_changes

from .answers import readable_draft
from .rows import bench_address

HTML = "procedures/sharing/"


@procedure_reader
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def adapt(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it and is signed in: copy what is published, or `?revision=2`, to a draft of one's own."""
    if not request.user.is_authenticated:
        return redirect(f"{reverse('account_login')}?next={request.path}")
    revision = _asked(request, procedure)
    error = ""
    if request.method == "POST":
        try:
            made = actions.adapt(revision=revision, by=request.user)
            messages.success(request, "It is yours to change now, as a draft. Where it comes from is kept.")
            return redirect(bench_address(made.slug, made.document["parts"][0]["key"]))
        except Refused as refusal:
            error = str(refusal)
    licence = revision.document.get("licence", "CC-BY-4.0")
    context = {
        "procedure": procedure,
        "revision": revision,
        "error": error,
        "licence": LICENCES[licence],
        "asks": ASKS[licence],
        "is_own": procedure.owner_id == request.user.pk,
    }
    return render(request, HTML + "adapt.html", context, status=422 if error else 200)


def _asked(request: HttpRequest, procedure: Procedure) -> Revision:
    """Return the revision to adapt. Raises Http404, and Withdrawn."""
    asked = request.POST.get("revision") or request.GET.get("revision", "")
    if asked:
        return readable_revision(request.user, procedure, asked)
    if procedure.latest is None:
        raise Http404("Nothing of it is published.")
    return procedure.latest


@procedure_editor
@readable_draft
@require_http_methods(["GET", "HEAD", "POST"])
def original(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner of an adaptation: what the original changed since, taken over change by change."""
    lineage = queries.adaptation_of(procedure)
    if lineage is None:
        raise Http404("This procedure was not adapted from another.")
    if request.method == "POST":
        return _answered(request, procedure)
    context = {"procedure": procedure, "lineage": lineage, **_since(request, procedure, lineage)}
    return render(request, HTML + "original.html", context)


def _answered(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    number = request.POST.get("number", "")
    digits = number.isascii() and number.isdigit() and len(number) < 9
    try:
        if not digits:
            raise Refused("Say up to which revision of the original.")
        if "caught_up" in request.POST:
            actions.catch_up(procedure=procedure, number=int(number), by=request.user)
            messages.success(request, f"Done with the original up to revision {number}.")
        else:
            name = request.POST.get("take", "")
            actions.take_over(procedure=procedure, number=int(number), name=name, by=request.user)
            messages.success(request, "Taken over. Undo at the bench takes it back.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("procedures:original", procedure.slug)


def _since(request: MemberRequest, procedure: Procedure, lineage: Adaptation) -> dict[str, Any]:
    """Return the latest of the original and what it changed; nothing where it is no longer published."""
    source = lineage.source.procedure if lineage.source else None
    latest = source.latest if source and may_read(request.user, source) and source.is_published else None
    if latest is None or lineage.caught_up is None:
        return {"latest": None, "changes": []}
    found = shown_between(request, lineage.caught_up.document, latest.document, procedure.document)
    return {"latest": latest, "changes": found, "is_done": all(one.is_had for one in found)}


def shown_between(request: MemberRequest, base: Any, theirs: Any, mine: Any) -> list[ShownChange]:
    """Return what theirs changed since the base, beside mine, ready to show. Raises DocumentError."""
    read = [engine_document.read(one, draft=True) for one in (base, theirs, mine)]
    return shown_changes(changes(base, theirs, mine), read[0], read[1], read[2], request.units)
