"""The parts of a procedure and the bars they start from, changed on the author's page."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from procedures import actions, editing
from procedures.access import MemberRequest, procedure_editor
from procedures.actions import EditConflict, Refused
from procedures.editing import Stored
from procedures.forms import NewPartForm, PartForm
from procedures.limits import limited
from procedures.models import Procedure

from .answers import both, edited, moved_on, readable_draft, refused_bar, turned_down, versions
from .bench import Bench
from .rows import bench_address


@procedure_editor
@readable_draft
@require_POST
def edit_part(request: MemberRequest, procedure: Procedure, part: str) -> HttpResponse:
    """Owner: save the name, quantity and bar of a part."""
    bench = Bench(request, procedure, part)
    if bench.part_key != part:
        return turned_down(bench, "This part was deleted in another window.")
    form = PartForm(bench.units, bench.stored_part, request.POST)
    if not form.is_valid():
        return refused_bar(bench, form)
    base = request.POST.get("over") or request.POST.get("base", "")
    try:
        saved = actions.edit_part(
            procedure=procedure, part=part, fields=form.fields_to_store, base=base, by=request.user
        )
    except EditConflict as conflict:
        return part_conflict(bench, form, conflict)
    except Refused as refusal:
        return turned_down(bench, str(refusal))
    after = Bench(request, saved, part)
    return moved_on(after, "Saved") if "over" in request.POST else edited(after)


def part_conflict(bench: Bench, form: PartForm, conflict: EditConflict) -> HttpResponse:
    """Return both versions of a part that was saved elsewhere meanwhile."""
    if conflict.theirs is None:
        return turned_down(bench, "This part was deleted in another window.")
    bench.typed_bar = form
    mine, theirs = (_words(bench, one) for one in (conflict.mine, conflict.theirs))
    rows = [versions(label, mine[label], theirs[label]) for label in mine]
    return both(bench, "part-form", rows, conflict, editing.part_digest(conflict.theirs))


def _words(bench: Bench, part: Stored) -> dict[str, Any]:
    """Return what the form of a part holds, in words by label."""
    form = PartForm(bench.units, part)
    return {str(field.label): field.initial for field in form}


@procedure_editor
@readable_draft
@limited("create")
@require_http_methods(["GET", "POST"])
def add_part(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner: add a part, with its name and the bar it starts from."""
    bench = Bench(request, procedure)
    form = NewPartForm(bench.units, request.POST or None)
    if form.is_valid():
        try:
            _, part = actions.add_part(
                procedure=procedure,
                name=form.cleaned_data["name"],
                stock=form.stock,
                material=form.cleaned_data["material"],
                by=request.user,
            )
            return redirect(bench_address(procedure.slug, part))
        except Refused as refusal:
            form.add_error(None, str(refusal))
    status = 422 if form.is_bound else 200
    return render(
        request, "procedures/author/add_part.html", {"form": form, "procedure": procedure}, status=status
    )


@procedure_editor
@readable_draft
@require_POST
def delete_part(request: MemberRequest, procedure: Procedure, part: str) -> HttpResponse:
    """Owner: delete a part with its steps; undo brings it back."""
    try:
        saved = actions.delete_part(procedure=procedure, part=part, by=request.user)
    except Refused as refusal:
        return turned_down(Bench(request, procedure, part), str(refusal))
    return moved_on(Bench(request, saved), "Deleted. Undo brings it back")
