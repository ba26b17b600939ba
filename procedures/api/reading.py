"""Procedures and their revisions, for who may read them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from ninja import Query, Router

from procedures import access, editing, frozen, notices, queries
from procedures.finding.words import asked_of
from procedures.models import FrozenReport, Procedure, Revision
from procedures.queries import finding
from procedures.queries.finding import Wish

from .answers import Fields, told, unchanged
from .shapes import ProcedureOut, ProceduresOut, RevisionsOut

router = Router(tags=["Procedures"])
ON_A_PAGE = 50
Page = Query(1, ge=1, le=100_000)


def reader(request: HttpRequest) -> Any:
    """Return who asks; signing in has said so."""
    return request.user


def paged(request: HttpRequest, rows: Any, page: int, shape: Callable[[Any], Fields]) -> HttpResponse:
    """Return a page of rows, with links to the pages beside it in the body and in `Link`."""
    found = Paginator(rows, ON_A_PAGE)
    if page > found.num_pages:
        raise Http404(f"There are {found.num_pages} pages.")
    this = found.page(page)

    def link(number: int) -> str:
        asked = {**request.GET.dict(), "page": number}
        return request.build_absolute_uri(f"{request.path}?{urlencode(asked)}")

    beside = {
        "next": link(page + 1) if this.has_next() else None,
        "previous": link(page - 1) if this.has_previous() else None,
    }
    answer = told({"count": found.count, **beside, "results": [shape(one) for one in this]})
    answer["Link"] = ", ".join(
        f'<{address}>; rel="{"prev" if name == "previous" else name}"'
        for name, address in beside.items()
        if address
    )
    return answer


def procedure_fields(request: HttpRequest, one: Procedure) -> Fields:
    """Return a procedure as it is listed."""
    whole = request.build_absolute_uri
    latest = one.latest
    return {
        "slug": one.slug,
        "title": latest.title if latest and not access.may_edit(reader(request), one) else one.title,
        "author": one.author,
        "status": one.status,
        "revision": latest.number if latest else 0,
        "code": latest.code if latest else "",
        "published": latest.published_at.isoformat() if latest else None,
        "updated": one.updated.isoformat(),
        "url": whole(one.get_absolute_url()),
        "document": whole(reverse("api-1:document", args=[one.slug])),
        "notice": notices.SHORT,
    }


@router.get("/procedures", response=ProceduresOut, summary="List or search procedures")
def procedures(request: HttpRequest, q: str = Query("", max_length=100), page: int = Page) -> HttpResponse:
    """What who asks may read: what is public, one's own, one's guilds'; the best 1,000 for words."""
    user = reader(request)
    if q.strip():
        keys = finding.found(Wish(asked=asked_of(q)), user)[: finding.MOST]
        rows: QuerySet[Procedure] | list[Procedure] = finding.shown(keys, user)
    else:
        rows = queries.readable_procedures(user)
    return paged(request, rows, page, lambda one: procedure_fields(request, one))


@router.get("/procedures/{slug}", response=ProcedureOut, summary="One procedure")
def procedure(request: HttpRequest, slug: str) -> HttpResponse:
    """What is known of a procedure besides its document."""
    found = access.readable_procedure(reader(request), slug)
    etag = f"{found.pk}-{found.version}-{found.latest_id}-{found.status}"
    return unchanged(request, etag, found.updated) or told(
        procedure_fields(request, found), etag=etag, changed=found.updated
    )


@router.get("/procedures/{slug}/document", response=dict[str, Any], summary="Its document")
def document(request: HttpRequest, slug: str) -> HttpResponse:
    """The draft for who may change it, else the newest revision. Its ETag is what a change has to name."""
    user = reader(request)
    found = access.readable_procedure(user, slug)
    if access.may_edit(user, found):
        etag, stored = editing.digest(found.document), lambda: found.document
    else:
        latest = _latest(found)
        etag, stored = latest.digest, lambda: latest.document
    return unchanged(request, etag) or told(stored(), etag=etag)


def _latest(found: Procedure) -> Revision:
    if found.latest is None:
        raise Http404("Nothing of this procedure is published.")
    return found.latest


@router.get("/procedures/{slug}/revisions", response=RevisionsOut, summary="Its revisions")
def revisions(request: HttpRequest, slug: str) -> HttpResponse:
    """All revisions, those that were withdrawn too, with the reason and without their documents."""
    found = access.readable_procedure(reader(request), slug)
    return told({"results": [revision_fields(request, found, one) for one in queries.revisions_of(found)]})


def revision_fields(request: HttpRequest, found: Procedure, one: Revision) -> Fields:
    """Return a revision as it is listed."""

    def address(name: str) -> str | None:
        if (one.withdrawn or one.hidden) and not access.may_edit(reader(request), found):
            return None
        return request.build_absolute_uri(reverse(f"api-1:{name}", args=[found.slug, one.number]))

    return {
        "number": one.number,
        "code": one.code,
        "title": one.title,
        "note": one.note,
        "published": one.published_at.isoformat(),
        "withdrawn": one.withdrawn is not None,
        "reason": one.withdrawn_reason,
        "digest": one.digest,
        "figures_digest": one.frames_digest,
        "document": address("revision"),
        "figures": address("figures"),
    }


@router.get("/procedures/{slug}/revisions/{number}", response=dict[str, Any], summary="A revision's document")
def revision(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    """A document as it was published. It never changes."""
    user = reader(request)
    found = access.readable_revision(user, access.readable_procedure(user, slug), str(number))
    return unchanged(request, found.digest) or told(
        found.document, etag=found.digest, changed=found.published_at
    )


@router.get(
    "/procedures/{slug}/revisions/{number}/figures", response=dict[str, Any], summary="A revision's figures"
)
def figures(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    """The replay report of when it was published: every section, length, mass and finding."""
    user = reader(request)
    found = access.readable_revision(user, access.readable_procedure(user, slug), str(number))
    same = unchanged(request, found.frames_digest)
    if same:
        return same
    kept = FrozenReport.objects.filter(revision=found).first()
    if kept is None:
        raise Http404("Of this revision only the digest of its figures was kept.")
    return told(frozen.unpack(kept.packed), etag=found.frames_digest, changed=found.published_at)
