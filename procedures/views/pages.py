"""A procedure as a whole: made, described, published, its document, deleted."""

from __future__ import annotations

import json

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from procedures import actions, editing, queries
from procedures.access import (
    MemberRequest,
    may_edit,
    procedure_manager,
    procedure_reader,
    readable_revision,
    signed_in,
)
from procedures.actions import EditConflict, Refused, Stops
from procedures.forms import DetailsForm, DocumentFileForm, NewProcedureForm
from procedures.forms.sharing import PublishForm, WithdrawForm
from procedures.limits import limited
from procedures.models import Procedure

from .answers import choice, readable_draft, versions, who
from .bench import Bench
from .bench_findings import stop_link
from .rows import bench_address


@signed_in
@limited("create")
@require_http_methods(["GET", "POST"])
def new(request: MemberRequest) -> HttpResponse:
    """Anyone signed in: make a procedure of one bar; the page offers to take one in, too."""
    form = NewProcedureForm(request.units, request.POST or None)
    guild = queries.own_guilds(request.user).filter(slug=request.GET.get("guild", "")).first()
    if form.is_valid():
        part = editing.new_part({}, form.cleaned_data["part"], form.stock, form.cleaned_data["material"])
        document = editing.new_document(form.cleaned_data["title"], part)
        if guild:
            document = editing.with_details(document, {"scale": {"fire": guild.fire}})
        try:
            with transaction.atomic():
                made = actions.create_procedure(document=document, by=request.user)
                if guild:
                    actions.put_on_shelf(procedure=made, guild=guild, by=request.user)
            return redirect(bench_address(made.slug, part["key"]))
        except Refused as refusal:
            form.add_error(None, str(refusal))
    context = {"form": form, "file_form": DocumentFileForm(), "guild": guild}
    return render(request, "procedures/author/new.html", context, status=422 if form.is_bound else 200)


@procedure_reader
@require_safe
def document(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the document as a file; the owner's is the draft, `?revision=2` is that very one."""
    is_owner = may_edit(request.user, procedure)
    asked = request.GET.get("revision")
    revision = None if is_owner else procedure.latest
    if asked is not None:
        revision = readable_revision(request.user, procedure, asked)
    stored = revision.document if revision else procedure.document
    stored = {**stored, "licence": stored.get("licence", "CC-BY-4.0")}  # said, even where it is the usual one
    text = json.dumps(stored, ensure_ascii=False, indent=2) + "\n"
    response = HttpResponse(text, content_type="application/json; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{procedure.slug}.json"'
    return response


@procedure_manager
@readable_draft
@require_http_methods(["GET", "POST"])
def settings(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner, and the keepers of its guild: change the title, the words about it, the licence and the fire."""
    form = DetailsForm(request.units, procedure.document, request.POST or None)
    conflict = None
    if form.is_valid():
        base = request.POST.get("over") or request.POST.get("base", "")
        try:
            actions.edit_details(procedure=procedure, details=form.details, base=base, by=request.user)
            return redirect("procedures:edit", procedure.slug)
        except EditConflict as stale:
            conflict = details_conflict(request, stale)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    posted = request.POST.get("base")
    context = {
        "procedure": procedure,
        "form": form,
        "base": posted or editing.details_digest(procedure.document),
        "conflict": conflict,
    }
    status = 409 if conflict else 422 if form.is_bound else 200
    return render(request, "procedures/author/settings.html", context, status=status)


def details_conflict(request: MemberRequest, stale: EditConflict) -> dict[str, object]:
    """Return both versions of details that were saved elsewhere meanwhile."""
    assert stale.theirs is not None
    units = request.units
    mine, theirs = DetailsForm(units, stale.mine), DetailsForm(units, stale.theirs)
    rows = [
        versions(str(one.label), one.initial, other.initial) for one, other in zip(mine, theirs, strict=True)
    ]
    return {
        "title": "The details were changed while you worked on them",
        "theirs": f"Saved by {who(stale, request)}",
        "rows": [one for one in rows if one["yours"] or one["theirs"]],
        "actions": choice("details-form", editing.digest(stale.theirs), request.path),
    }


@procedure_manager
@readable_draft
@limited("publish")
@require_http_methods(["GET", "POST"])
def publish(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner, and the keepers of its guild: freeze the draft for its readers, unless a step is stopped."""
    bench = Bench(request, procedure)
    guilds = queries.guilds_to_publish_for(procedure, request.user)
    form = PublishForm(procedure, guilds, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        note = form.cleaned_data["note"]
        try:
            revision = actions.publish(procedure=procedure, note=note, by=request.user, **form.audience)
        except Stops as refusal:
            stops = [stop_link(procedure, frame, one, bench.units) for frame, one in refusal.stops]
            context = {"procedure": procedure, "stops": stops}
            return render(request, "procedures/author/publish.html", context, status=422)
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"Published as revision {revision.number}.")
            return redirect(procedure)
    cautions = bench.shown.findings["caution"]
    same = procedure.is_published and procedure.latest.digest == editing.digest(procedure.document)  # type: ignore[union-attr]
    context = {"procedure": procedure, "stops": bench.stops, "cautions": cautions, "same": same}
    context["silent"] = [one for one in bench.shown.steps if one.silent_photos]
    context["form"] = form
    status = 422 if form.is_bound else 200
    return render(request, "procedures/author/publish.html", context, status=status)


@procedure_manager
@require_http_methods(["GET", "HEAD", "POST"])
def unpublish(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner, and the keepers of its guild: let nobody else read it any more, saying why."""
    form = WithdrawForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        actions.unpublish(procedure=procedure, reason=form.cleaned_data["reason"], by=request.user)
        messages.success(request, "Its readers are told that it was withdrawn. Its revisions are kept.")
        return redirect("procedures:edit", procedure.slug)
    context = {"procedure": procedure, "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "procedures/revisions/withdraw.html", context, status=status)


@procedure_manager
@require_http_methods(["GET", "POST"])
def delete(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner, and the keepers of its guild: delete it for good, after being asked once."""
    if request.method == "POST":
        title = procedure.title
        actions.delete_procedure(procedure=procedure, by=request.user)
        messages.success(request, f"“{title}” is deleted.")
        return redirect("procedures:home")
    count = procedure.revisions.count()
    context = {
        "heading": f"Delete “{procedure.title}”?",
        "text": "This cannot be undone. Save the document first if you may want it again. Where others may"
        " have cited it, withdraw it instead: deleted, its addresses lead nowhere.",
        "losses": [
            "the draft and its history",
            f"{count} published revision{'s' * (count != 1)}",
            "its photos",
        ],
        "action": "Delete it for good",
        "action_url": request.path,
        "cancel_url": bench_address(procedure.slug, procedure.document["parts"][0]["key"]),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)
