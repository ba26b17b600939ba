"""Photos of results: put there by who reported it, shown to who may read the procedure."""

from __future__ import annotations

from django.contrib import messages
from django.core.files.storage import default_storage
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST, require_safe

from procedures import actions, photos
from procedures.access import MemberRequest, procedure_reader, result_of, signed_in
from procedures.actions import Refused
from procedures.forms.talk import ResultPhotoForm
from procedures.limits import limited
from procedures.models import Procedure, Result, ResultPhoto
from procedures.photos import PhotoRefused

from .photos import YEAR
from .results import own_result, shown_result


@procedure_reader
@require_safe
def result_photo(
    request: HttpRequest, procedure: Procedure, result: int, photo: int, width: int
) -> HttpResponse:
    """Who may read it: the file of a photo."""
    found = _photo(result_of(request.user, procedure, result), photo)
    if width not in found.widths:
        raise Http404("There is no such photo here.")
    try:
        with default_storage.open(found.path(width)) as file:
            response = HttpResponse(file.read(), content_type="image/jpeg")
    except FileNotFoundError as error:
        raise Http404("The file of this photo is missing.") from error
    response["Cache-Control"] = f"private, max-age={YEAR}, immutable"
    return response


@signed_in
@procedure_reader
@limited("photo")
@require_POST
def add_result_photo(request: MemberRequest, procedure: Procedure, result: int) -> HttpResponse:
    """Who reported it: show a photo with it."""
    found = own_result(request, procedure, result)
    form = ResultPhotoForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            prepared = photos.prepare(form.cleaned_data["file"])
            actions.attach_result_photo(
                result=found, prepared=prepared, alt=form.cleaned_data["alt"], by=request.user
            )
            messages.success(request, "The photo is there.")
            return redirect(found)
        except PhotoRefused as refusal:
            form.add_error("file", str(refusal))
        except Refused as refusal:
            form.add_error(None, str(refusal))
    return shown_result(request, found, form)


@signed_in
@procedure_reader
@limited("talk")
@require_POST
def delete_result_photo(
    request: MemberRequest, procedure: Procedure, result: int, photo: int
) -> HttpResponse:
    """Who reported it: take a photo away."""
    found = own_result(request, procedure, result)
    actions.detach_result_photo(photo=_photo(found, photo), by=request.user)
    messages.success(request, "The photo was deleted.")
    return redirect(found)


def _photo(result: Result, pk: int) -> ResultPhoto:
    found = result.photos.filter(pk=pk).first() if pk < 2**31 else None
    if found is None:
        raise Http404("There is no such photo here.")
    return found
