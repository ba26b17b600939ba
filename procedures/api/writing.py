"""Drafts made, changed, published and deleted, and photos put to them, by whose token writes."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from ninja import File, UploadedFile

from procedures import access, actions, editing, photos, queries
from procedures.models import Photo, Procedure
from procedures.photos import PhotoRefused

from .answers import BODY_OF_DOCUMENT, Fields, document_in, draft_asked, told
from .problems import Problem
from .reading import procedure_fields, reader, revision_fields, router
from .shapes import PhotoOut, PhotosOut, ProcedureOut, PublishIn, RevisionOut
from .signing import Writing, anyone

WRITES = Writing()
IF_MATCH = {
    "name": "If-Match",
    "in": "header",
    "schema": {"type": "string"},
    "description": "The ETag of the draft.",
}


@router.post(
    "/procedures",
    auth=WRITES,
    response={201: ProcedureOut},
    openapi_extra=BODY_OF_DOCUMENT,
    summary="Make a draft",
)
def create(request: HttpRequest) -> HttpResponse:
    """Make a draft of a document. It may hold steps that cannot be: they are findings of its replay."""
    made = actions.create_procedure(document=document_in(request), by=reader(request))
    answer = told(procedure_fields(request, made), status=201, etag=editing.digest(made.document))
    answer["Location"] = request.build_absolute_uri(reverse("api-1:procedure", args=[made.slug]))
    return answer


@router.put(
    "/procedures/{slug}/document",
    auth=WRITES,
    response=dict[str, Any],
    openapi_extra={**BODY_OF_DOCUMENT, "parameters": [IF_MATCH]},
    summary="Change a draft",
)
def replace(request: HttpRequest, slug: str) -> HttpResponse:
    """Put another document in the draft's place, as one edit that its author can undo."""
    found = access.editable_procedure(reader(request), slug)
    base = draft_asked(request)
    changed = actions.exchange_document(
        procedure=found, document=document_in(request), base=base, by=reader(request)
    )
    return told(changed.document, etag=editing.digest(changed.document))


@router.delete("/procedures/{slug}", auth=WRITES, response={204: None}, summary="Delete a procedure")
def remove(request: HttpRequest, slug: str) -> HttpResponse:
    """Delete a draft. What is published is withdrawn first, on its page, where the reason is asked for."""
    found = access.manageable_procedure(reader(request), slug)
    if found.is_published:
        raise Problem(409, "It is published: withdraw it on its page first, and say why.")
    actions.delete_procedure(procedure=found, by=reader(request))
    return HttpResponse(status=204)


@router.post(
    "/procedures/{slug}/publish", auth=WRITES, response={201: RevisionOut}, summary="Publish a draft"
)
def publish(request: HttpRequest, slug: str, said: PublishIn) -> HttpResponse:
    """Freeze the draft as the next revision, for who read it so far, and for everybody the first time."""
    found = access.manageable_procedure(reader(request), slug)
    made = actions.publish(procedure=found, note=said.note, by=reader(request))
    return told(revision_fields(request, found, made), status=201)


@router.get("/procedures/{slug}/photos", response=PhotosOut, auth=anyone, summary="Its photos")
def photos_of(request: HttpRequest, slug: str) -> HttpResponse:
    """The photos that who asks may see."""
    user = reader(request)
    found = access.readable_procedure(user, slug)
    mine = access.may_edit(user, found)
    shown = [one for one in found.photos.all() if mine or queries.is_photo_published(found, one.digest)]
    return told({"results": [_photo(request, found, one) for one in shown]})


@router.post(
    "/procedures/{slug}/steps/{part}/{step}/photos",
    auth=WRITES,
    response={201: PhotoOut},
    summary="Put a photo to a step",
)
def add_photo(
    request: HttpRequest,
    slug: str,
    part: str,
    step: str,
    file: File[UploadedFile],
    alt: str = "",
    caption: str = "",
) -> HttpResponse:
    """Send a photo as multipart form data. It is made anew: what a camera writes about the place is gone."""
    found = access.editable_procedure(reader(request), slug)
    try:
        prepared = photos.prepare(file)
    except PhotoRefused as refused:
        raise Problem(422, str(refused)) from refused
    actions.attach_photo(
        procedure=found,
        part=part,
        step=step,
        prepared=prepared,
        alt=alt[:300],
        caption=caption[:300],
        by=reader(request),
    )
    return told(_photo(request, found, found.photos.get(digest=prepared.digest)), status=201)


def _photo(request: HttpRequest, procedure: Procedure, one: Photo) -> Fields:
    files = {str(width): request.build_absolute_uri(one.url(width, procedure.slug)) for width in one.widths}
    return {"digest": one.digest, "width": one.width, "height": one.height, "files": files}
