"""Photos of runs: sent by the phone that took them, shown to who may see them."""

from __future__ import annotations

from uuid import UUID

from django.core.files.storage import default_storage
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST, require_safe

from procedures import actions, photos
from procedures.access import MemberRequest, anyone, run_reader
from procedures.actions import NotYours, Refused
from procedures.limits import limited
from procedures.models import Run, RunPhoto
from procedures.photos import PhotoRefused
from procedures.presenting.runs import may_see_photo

YEAR = 365 * 24 * 3600  # seconds


@anyone
@csrf_exempt  # the run's own key lets in, which no other site knows
@require_POST
@limited("run_photo")
def take_in_photo(request: HttpRequest, run: UUID, entry: UUID) -> JsonResponse:
    """Who has the key of the run: add the photo of an entry; what is sent twice is there once."""
    file = request.FILES.get("file")
    if file is None:
        return JsonResponse({"fault": "Send the photo as a file."}, status=400)
    try:
        found = actions.run_of_photo(run_id=run, entry_id=entry, key=request.POST.get("key", ""))
        actions.keep_run_photo(entry=found, prepared=photos.prepare(file))
    except NotYours as refused:
        return JsonResponse({"fault": str(refused)}, status=403)
    except PhotoRefused as refused:
        return JsonResponse({"fault": str(refused)}, status=422)
    except Refused as refused:
        return JsonResponse({"fault": str(refused)}, status=409)
    return JsonResponse({"have": str(entry)})


@run_reader
@require_safe
def run_photo(request: MemberRequest, run: Run, entry: UUID, width: int) -> HttpResponse:
    """Who made it, and the teacher where its maker lets others see it: a photo's file."""
    found = RunPhoto.objects.select_related("entry").filter(entry=entry, entry__run=run).first()
    if found is None or width not in found.widths or not may_see_photo(request.user, run, found.entry):
        raise Http404("There is no such photo here.")
    try:
        with default_storage.open(found.path(width)) as file:
            response = HttpResponse(file.read(), content_type="image/jpeg")
    except FileNotFoundError as error:
        raise Http404("The file of this photo is missing.") from error
    response["Cache-Control"] = f"private, max-age={YEAR}, immutable"
    return response
