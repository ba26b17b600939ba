"""Procedures carried out as a zip, and taken in from a document or a zip."""

from __future__ import annotations

from collections.abc import Iterable
from typing import IO

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.cache import get_conditional_response
from django.utils.http import urlencode
from django.views.decorators.http import require_POST, require_safe

from procedures import actions, queries
from procedures.access import (
    MemberRequest,
    guild_member,
    may_edit,
    membership_in,
    procedure_reader,
    signed_in,
)
from procedures.actions import Refused, TakenInProcedure
from procedures.engine import document as engine_document
from procedures.engine import document_text
from procedures.engine.parameters.fields import DocumentError
from procedures.exchange.packing import as_published, as_they_stand, in_one_zip, packed
from procedures.exchange.reading import is_zip
from procedures.forms import DocumentFileForm, NewProcedureForm
from procedures.limits import limited
from procedures.models import Guild, Procedure, Revision
from procedures.presenting.edition import content_key
from procedures.queries import guilds as guild_queries

from .rows import bench_address
from .wanted import Wanted, readable, wanted_by

MOST_TOLD = 200  # procedures taken in at once
FEW = 5  # titles that are told of those that something is said of


@procedure_reader
@readable
@require_safe
def package(request: HttpRequest, procedure: Procedure) -> HttpResponseBase:
    """Who may read it: a version of it with its photos as a zip; `?revisions` with those before it."""
    wanted = wanted_by(request, procedure)
    older = _older(request, wanted) if "revisions" in request.GET else []
    address = request.build_absolute_uri(
        reverse("procedures:cited", args=[wanted.revision.code]) if wanted.revision else wanted.address
    )
    found = packed(procedure, wanted.revision, older=older, address=address)
    etag = f'"{content_key("package", found.entry, [one.digest for one in older])}"'
    kept = get_conditional_response(request, etag=etag)
    name = f"{procedure.slug}-{wanted.version.lower().replace(' ', '-')}.zip"
    response: HttpResponseBase = kept or sent(in_one_zip([found], folders=False), name)
    response["ETag"] = etag
    response["Cache-Control"] = "private, no-cache"
    return response


def _older(request: HttpRequest, wanted: Wanted) -> list[Revision]:
    """Return the revisions to lie beside a version: all that this reader may read."""
    found = wanted.procedure.revisions.exclude(number=wanted.number)
    return list(
        found if may_edit(request.user, wanted.procedure) else found.filter(withdrawn=None, hidden=None)
    )


@signed_in
@require_safe
def own_package(request: MemberRequest) -> HttpResponseBase:
    """Signed in: all one's procedures in one zip, as drafts, with their revisions beside them."""
    own = queries.own_procedures(request.user)
    if not own.exists():
        raise Http404("You have no procedure here yet.")
    return sent(in_one_zip(as_they_stand(own), folders=True), "procedures.zip")


@guild_member
@require_safe
def guild_package(request: MemberRequest, guild: Guild) -> HttpResponseBase:
    """Members of a guild: what is on its shelf, as drafts for its editors and as published for the others."""
    shelf = guild_queries.procedures_of(guild, request.user).filter(on_shelf=True)
    membership = membership_in(request.user, guild)
    found = as_they_stand(shelf) if membership and membership.edits else as_published(shelf)
    return sent(in_one_zip(found, folders=True), f"{guild.slug}.zip")


def sent(file: IO[bytes], name: str) -> FileResponse:
    """Return the answer that sends a package as a file of this name."""
    return FileResponse(file, as_attachment=True, filename=name, content_type="application/zip")


# -- in ----------------------------------------------------------------------------------------------


@signed_in
@limited("take_in")
@require_POST
def take_in(request: MemberRequest) -> HttpResponse:
    """Anyone signed in: make drafts of a document or a package; one with a fault is not taken in at all."""
    form = DocumentFileForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            made = _made(request, form.cleaned_data["file"])
        except DocumentError as error:
            form.add_error("file", f"{error.message} The fault is at {error.path}. Nothing was taken in.")
        except Refused as refusal:
            form.add_error("file", str(refusal))
        else:
            return _told(request, made)
    context = {"form": NewProcedureForm(request.units), "file_form": form}
    return render(request, "procedures/author/new.html", context, status=422)


def _made(request: MemberRequest, upload: UploadedFile) -> list[TakenInProcedure]:
    """Take in what was uploaded. Raises DocumentError and Refused."""
    beginning = upload.read(4)
    upload.seek(0)
    if is_zip(beginning):
        assert upload.file is not None
        return actions.take_in_package(file=upload.file, by=request.user)
    stored = document_text.parse(upload.read(document_text.LARGEST + 1))
    document = engine_document.write(engine_document.read(stored))
    absent = len(queries.digests_shown(document))
    said = (f"{absent} photos are named in it, but a document alone holds none.",) if absent else ()
    return [TakenInProcedure(actions.create_procedure(document=document, by=request.user), said)]


def _told(request: MemberRequest, made: Iterable[TakenInProcedure]) -> HttpResponse:
    """Return where to go on: the bench of what was taken in, or the list of it where it is several."""
    made = list(made)
    for line in dict.fromkeys(line for one in made for line in one.said):
        titles = [one.procedure.title for one in made if line in one.said]
        of_which = "" if len(titles) == len(made) else f"{'; '.join(titles[:FEW])}: "
        more = f" (and {len(titles) - FEW} more)" if of_which and len(titles) > FEW else ""
        messages.info(request, f"{of_which}{line}{more}")
    if len(made) == 1:
        procedure = made[0].procedure
        return redirect(bench_address(procedure.slug, procedure.document["parts"][0]["key"]))
    query = urlencode([("made", one.procedure.slug) for one in made])
    return redirect(f"{reverse('procedures:taken_in')}?{query}")


@signed_in
@require_safe
def taken_in(request: MemberRequest) -> HttpResponse:
    """Signed in: the drafts that were made of a package, `?made=` each by its name."""
    slugs = request.GET.getlist("made")[:MOST_TOLD]
    found = list(queries.own_procedures(request.user).filter(slug__in=slugs).defer("latest__document"))
    context = {"procedures": [(one, _bench(one)) for one in found]}
    return render(request, "procedures/exchange/taken_in.html", context)


def _bench(procedure: Procedure) -> str:
    return bench_address(procedure.slug, procedure.document["parts"][0]["key"])
