"""The author's page, and every change of a step that is made on it."""

from __future__ import annotations

import re
from typing import Any

from django.http import HttpResponse, HttpResponseBadRequest, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures import actions, editing
from procedures.access import MemberRequest, procedure_editor
from procedures.actions import EditConflict, Refused
from procedures.editing import NoSuchPlace
from procedures.engine.catalogue import by_family, find, nearest, search
from procedures.engine.operation import FAMILIES, Operation
from procedures.forms import Offer, StepForm, with_row_added, with_row_removed
from procedures.models import Edit, Procedure

from .answers import (
    AT_BENCH,
    conflicted,
    edited,
    form_again,
    moved_on,
    page,
    readable_draft,
    refused,
    shown_gone,
    turned_down,
    wants_parts,
)
from .bench import Bench
from .kept import recalled


@procedure_editor
@readable_draft
@require_safe
def edit(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner: the draft's steps, with one at the bench, or the choice of a new one."""
    bench = Bench(request, procedure, request.GET.get("part", ""), request.GET.get("step", ""))
    if "after" not in request.GET:
        return page(bench)
    picker = picker_of(bench, request.GET["after"], request.GET.get("q", "")[:60])
    if wants_parts(request) and "q" in request.GET:
        return render(request, AT_BENCH + "_operations.html", {"bench": bench, "picker": picker, "oob": True})
    return page(bench, panel=AT_BENCH + "_picker.html", picker=picker)


def picker_of(bench: Bench, after: str, query: str) -> dict[str, Any]:
    """Return the operations to choose from: by family, or those a query finds, the likeliest first."""
    kinds = search(query)
    groups = {"Found": kinds} if query.strip() else {FAMILIES[key]: them for key, them in by_family().items()}
    # Not the classes themselves: a template would call them.
    families = [
        {"title": title, "operations": [_choice(one, bench.units) for one in found]}
        for title, found in groups.items()
        if found
    ]
    step = bench.part.step(after)
    where = f"After step {step.number}, {step.title}." if step else f"As the first step of {bench.part.name}."
    return {
        "after": step.key if step else "",
        "where": where,
        "query": query,
        "families": families,
        "near": () if kinds else nearest(query),
    }


def _choice(kind: type[Operation], units: UnitSystem) -> dict[str, Any]:
    return {
        "id": kind.id,
        "title": kind.title,
        "help": retold(kind.help, units),
        "synonyms": kind.synonyms,
    }


@procedure_editor
@readable_draft
@require_POST
def edit_step(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: save what was typed of a step; a row added or removed gives the form again."""
    bench = Bench(request, procedure, part, step)
    if not bench.has_step:
        return gone(bench, step)
    data = posted(request)
    if "add" in data:
        return form_again(bench, bench.step_form(data))
    form = bench.step_form(data, offering=False)
    if not form.is_valid():
        return refused(bench, bench.step_form(data))
    try:
        saved = save_step(bench, form, data)
    except EditConflict as conflict:
        return gone(bench, step) if conflict.theirs is None else conflicted(bench, data, conflict)
    except Refused as refusal:
        return turned_down(bench, str(refusal))
    after = Bench(request, saved, part, step)
    after.earlier = recalled(procedure)
    said = "Mended" if "mend" in data else "Saved"
    return moved_on(after, said) if data.keys() & REDRAWN else edited(after)


REDRAWN = {"remove", "mend", "over"}  # what is posted with these changes the form itself


def save_step(bench: Bench, form: StepForm, data: QueryDict) -> Procedure:
    """Save a valid form, then apply a mend where one was pressed. Raises EditConflict and Refused."""
    saved = actions.edit_step(
        procedure=bench.procedure,
        part=bench.part_key,
        step=bench.step_key,
        fields=form.fields_to_store,
        base=data.get("over") or data.get("base", ""),
        by=bench.user,
    )
    if "mend" not in data:
        return saved
    code = data.get("mend", "")
    return actions.apply_mend(
        procedure=saved, part=bench.part_key, step=bench.step_key, code=code, by=bench.user
    )


def posted(request: MemberRequest) -> QueryDict:
    """Return what was posted, with a row more or less where that was pressed."""
    data = request.POST
    if "add" in data:
        return with_row_added(data, data["add"])
    prefix, _, index = data.get("remove", "").rpartition("-")
    if index.isascii() and index.isdigit() and len(index) < 4:
        return with_row_removed(data, prefix, int(index))
    return data


def gone(bench: Bench, step: str) -> HttpResponse:
    """Answer for a step that was deleted meanwhile: what was typed is shown, and can be put back."""
    data = bench.request.POST
    kind = find(data.get("operation", ""))
    if kind is None:
        return turned_down(bench, "This step was deleted in another window.")
    stored = {"key": step[:40], "operation": kind.id, "version": kind.version, "params": {}}
    form = StepForm(stored, kind, Offer(bench.units), data)
    if not form.is_valid() or data.get("over") != "gone":
        return shown_gone(bench, form)
    typed = {**stored, **{key: one for key, one in form.fields_to_store.items() if one is not None}}
    try:
        saved, key = actions.restore_step(
            procedure=bench.procedure, part=bench.part_key, step=typed, by=bench.user
        )
    except Refused as refusal:
        return turned_down(bench, str(refusal))
    return moved_on(Bench(bench.request, saved, bench.part_key, key), "Put back at the end")


# -- the list of steps -------------------------------------------------------------------------------


@procedure_editor
@readable_draft
@require_POST
def insert_step(request: MemberRequest, procedure: Procedure, part: str) -> HttpResponse:
    """Owner: put a new step after another."""
    operation, after = request.POST.get("operation", ""), request.POST.get("after", "")
    try:
        saved, key = actions.insert_step(
            procedure=procedure, part=part, operation=operation, after=after or None, by=request.user
        )
    except Refused as refusal:
        return turned_down(Bench(request, procedure, part, after), str(refusal))
    return moved_on(Bench(request, saved, part, key), "Inserted")


@procedure_editor
@readable_draft
@require_POST
def move_step(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: put a step at another place, `to` counted from 0; beyond the ends it stays at the end."""
    to = request.POST.get("to", "")
    if not re.fullmatch(r"-?[0-9]{1,4}", to, re.ASCII):
        return HttpResponseBadRequest("`to` is the new place of the step, counted from 0.")
    try:
        saved = actions.move_step(
            procedure=procedure, part=part, step=step, to=max(int(to), 0), by=request.user
        )
    except Refused as refusal:
        return turned_down(Bench(request, procedure, part), str(refusal))
    bench = Bench(request, saved, part, step)
    return moved_on(bench, f"Moved: it is step {bench.number} now")


@procedure_editor
@readable_draft
@require_POST
def duplicate_step(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: put a copy of a step after it."""
    try:
        saved, key = actions.duplicate_step(procedure=procedure, part=part, step=step, by=request.user)
    except Refused as refusal:
        return turned_down(Bench(request, procedure, part), str(refusal))
    return moved_on(Bench(request, saved, part, key), "Duplicated")


@procedure_editor
@readable_draft
@require_POST
def delete_step(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: take a step out; undo brings it back."""
    try:
        beside = editing.neighbour(procedure.document, part, step)
        saved = actions.delete_step(procedure=procedure, part=part, step=step, by=request.user)
    except (Refused, NoSuchPlace) as refusal:
        return turned_down(Bench(request, procedure, part), str(refusal))
    return moved_on(Bench(request, saved, part, beside), "Deleted. Undo brings it back")


# -- history -----------------------------------------------------------------------------------------


@procedure_editor
@readable_draft
@require_POST
def undo(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner: take back the last change of the draft."""
    saved, edit = actions.undo(procedure=procedure, by=request.user)
    said = f"Undone: {edit.label}" if edit else "There is nothing to undo"
    return moved_on(bench_of(request, saved, edit), said)


@procedure_editor
@readable_draft
@require_POST
def redo(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner: do again what was undone."""
    saved, edit = actions.redo(procedure=procedure, by=request.user)
    said = f"Done again: {edit.label}" if edit else "There is nothing to do again"
    return moved_on(bench_of(request, saved, edit), said)


def bench_of(request: MemberRequest, procedure: Procedure, edit: Edit | None) -> Bench:
    """Return the bench where an edit shows."""
    return Bench(request, procedure, edit.part if edit else "", edit.step if edit else "")
