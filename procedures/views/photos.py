"""Photos: served to who may read the procedure, put to steps by its owner."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from django.contrib import messages
from django.core.files.storage import default_storage
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST, require_safe

from procedures import actions, photos, queries
from procedures.access import MemberRequest, may_edit, procedure_editor, procedure_reader
from procedures.actions import Refused
from procedures.forms import PhotoForm, PhotoWordsForm
from procedures.limits import limited
from procedures.models import Photo, Procedure
from procedures.photos import PhotoRefused

from .answers import page, readable_draft
from .bench import Bench

YEAR = 365 * 24 * 3600  # seconds


@procedure_reader
@require_safe
def photo(request: HttpRequest, procedure: Procedure, digest: str, width: int) -> HttpResponse:
    """Who may read it: a photo's file. Others than the owner get those that a revision shows."""
    found = get_object_or_404(Photo, procedure=procedure, digest=digest)
    mine = may_edit(request.user, procedure)
    if width not in found.widths or not (mine or queries.is_photo_published(procedure, digest)):
        raise Http404("There is no such photo here.")
    try:
        with default_storage.open(found.path(width)) as file:
            response = HttpResponse(file.read(), content_type="image/jpeg")
    except FileNotFoundError as error:
        raise Http404("The file of this photo is missing.") from error
    # A digest never names another picture. Private: what a draft shows must not stay in shared caches.
    response["Cache-Control"] = f"private, max-age={YEAR}, immutable"
    return response


@procedure_editor
@readable_draft
@limited("photo")
@require_POST
def add_photo(request: MemberRequest, procedure: Procedure, part: str, step: str) -> HttpResponse:
    """Owner: put a photo to a step."""
    bench = Bench(request, procedure, part, step)
    form = PhotoForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            words = {key: value for key, value in form.cleaned_data.items() if key != "file"}
            prepared = photos.prepare(form.cleaned_data["file"])
            actions.attach_photo(
                procedure=procedure, part=part, step=step, prepared=prepared, by=request.user, **words
            )
            return redirect(f"{bench.here}#photos")
        except PhotoRefused as refusal:
            form.add_error("file", str(refusal))
        except Refused as refusal:
            form.add_error(None, str(refusal))
    bench.photo_form = form
    return page(bench, status=422, photo_form=form)


@procedure_editor
@readable_draft
@require_POST
def edit_photo(
    request: MemberRequest, procedure: Procedure, part: str, step: str, digest: str
) -> HttpResponse:
    """Owner: change what is said of a step's photo, or take the photo away."""
    bench = Bench(request, procedure, part, step)
    form = PhotoWordsForm(request.POST)
    change: Callable[..., Procedure] | None = None
    if form.is_valid():
        change = partial(actions.describe_photo, **form.cleaned_data)
    if "remove" in request.POST:
        change = actions.detach_photo
    try:
        if change:
            change(procedure=procedure, part=part, step=step, digest=digest, by=request.user)
        else:
            messages.error(request, "Say in a few words what the photo shows.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect(f"{bench.here}#photos")
