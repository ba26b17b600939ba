"""The record of an original that is reproduced: kept at the bench, printed as a sheet."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures import actions, editing
from procedures.access import MemberRequest, procedure_editor, procedure_reader
from procedures.actions import EditConflict, Refused
from procedures.actions.record import Kind, entry_of, identity_of
from procedures.engine import document as engine_document
from procedures.engine.replay import replay
from procedures.forms.record import MeasurementForm, OriginalForm, SourceForm
from procedures.models import Procedure
from procedures.presenting import ShownProcedure
from procedures.printing.record import record_pdf, record_sheet
from procedures.printing.sheets import SheetError

from .answers import readable_draft, who
from .printing import imprint_of
from .wanted import readable, wanted_by


@procedure_editor
@readable_draft
@require_http_methods(["GET", "HEAD", "POST"])
def record(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Editors: what the original is and who permits what, with the lists of measurements and sources."""
    present = identity_of(procedure.document)
    form = OriginalForm(present, request.POST if request.method == "POST" else None)
    context: dict[str, Any] = {"procedure": procedure, "form": form, "base": editing.digest(present)}
    if form.is_valid():
        base = request.POST.get("base", "")
        try:
            actions.say_original(procedure=procedure, said=form.said, base=base, by=request.user)
        except EditConflict as stale:
            return _conflict(request, form, stale, "procedures/record/page.html", context)
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "Saved.")
            return redirect("procedures:record", procedure.slug)
    shown = ShownProcedure(replay(engine_document.read(procedure.document, draft=True)), request.units)
    context["record"] = shown.record
    status = 422 if form.is_bound else 200
    return render(request, "procedures/record/page.html", context, status=status)


@procedure_editor
@readable_draft
@require_http_methods(["GET", "HEAD", "POST"])
def measurement(request: MemberRequest, procedure: Procedure, key: str = "") -> HttpResponse:
    """Editors: put a measurement on the record, change it or take it off."""
    present = _present(procedure, "measurements", key)
    replayed = replay(engine_document.read(procedure.document, draft=True))
    data = request.POST if request.method == "POST" else None
    form = MeasurementForm(request.units, replayed, present, data)
    return _entry(request, procedure, "measurements", key, form)


@procedure_editor
@readable_draft
@require_http_methods(["GET", "HEAD", "POST"])
def source(request: MemberRequest, procedure: Procedure, key: str = "") -> HttpResponse:
    """Editors: put a source on the record, change it or take it off."""
    form = SourceForm(
        _present(procedure, "references", key), request.POST if request.method == "POST" else None
    )
    return _entry(request, procedure, "references", key, form)


@procedure_reader
@readable
@require_safe
def record_print(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the record as a sheet, as PDF."""
    wanted = wanted_by(request, procedure)
    try:
        sheet = record_sheet(request.GET.get("size", ""))
    except SheetError as error:
        return HttpResponse(str(error), status=400, content_type="text/plain; charset=utf-8")
    if request.GET.get("units") in UNIT_SYSTEMS:
        wanted = replace(wanted, units=UNIT_SYSTEMS[request.GET["units"]])
    imprint = imprint_of(request, wanted)
    here = wanted.address
    if wanted.revision:
        here = reverse("procedures:cited", args=[wanted.revision.code])
    address = request.build_absolute_uri(here)
    made = record_pdf(wanted.key("record", sheet, address), wanted.shown, sheet, imprint, address)
    response = HttpResponse(made, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{procedure.slug}-record.pdf"'
    response["Cache-Control"] = "private, no-cache"
    return response


def _present(procedure: Procedure, kind: Kind, key: str) -> dict[str, Any]:
    found = entry_of(procedure.document, kind, key) if key else {}
    if found is None:
        raise Http404("There is no such entry on the record.")
    return found


def _entry(
    request: MemberRequest, procedure: Procedure, kind: Kind, key: str, form: MeasurementForm | SourceForm
) -> HttpResponse:
    """Show the form of an entry, or do what was posted with it."""
    template = f"procedures/record/{actions.record.WORDS[kind]}.html"
    context = {"procedure": procedure, "form": form, "key": key}
    context["base"] = editing.digest(entry_of(procedure.document, kind, key) or {})
    try:
        if key and "remove" in request.POST:
            actions.remove_entry(procedure=procedure, kind=kind, key=key, by=request.user)
            messages.success(request, "It is off the record. Undo at the bench brings it back.")
            return redirect("procedures:record", procedure.slug)
        if form.is_valid():
            base = request.POST.get("base", "")
            actions.keep_entry(
                procedure=procedure, kind=kind, key=key, entry=form.entry, base=base, by=request.user
            )
            messages.success(request, "It is on the record.")
            return redirect("procedures:record", procedure.slug)
    except EditConflict as stale:
        return _conflict(request, form, stale, template, context)
    except Refused as refusal:
        form.add_error(None, str(refusal))
    return render(request, template, context, status=422 if form.is_bound else 200)


def _conflict(
    request: MemberRequest, form: Form, stale: EditConflict, template: str, context: dict[str, Any]
) -> HttpResponse:
    """Say that it was saved elsewhere meanwhile; what was typed stays, and saving again keeps it."""
    if stale.theirs is None:
        form.add_error(None, f"It was taken off the record meanwhile, by {who(stale, request)}.")
    else:
        form.add_error(
            None,
            f"This was changed meanwhile, by {who(stale, request)}. What you typed is still here: save again"
            " to put it in place of the other.",
        )
        context["base"] = editing.digest(stale.theirs)
    return render(request, template, context, status=409)
