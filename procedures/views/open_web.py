"""What pages tell other programs, in their head and as oEmbed."""

from __future__ import annotations

from urllib.parse import urlencode, urlsplit

from django.contrib.auth.models import AnonymousUser
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.urls import Resolver404, resolve, reverse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from procedures import queries
from procedures.access import Withdrawn, anyone, cited_revision, readable_procedure, readable_revision
from procedures.models import Adaptation
from procedures.presenting.kept import kept
from procedures.presenting.open_web import KEPT_FOR, Page, head, oembed

from .citations import citation_of
from .wanted import Wanted, units_of

MOST_ROOM = 10_000  # px that a page elsewhere may say it has


def head_of(request: HttpRequest, wanted: Wanted, lineage: list[Adaptation]) -> SafeString:
    """Return what the head of a published procedure's page says of it; made once for all its readers."""
    page = _page(request, wanted, lineage)
    asked = urlencode({"url": page.address, "format": "json"})
    address = page.absolute(reverse("procedures:oembed"))
    made_from = (page.address, page.citation, page.based_on)
    return kept(wanted.key("open_web", *made_from), lambda: head(wanted.shown(), page, f"{address}?{asked}"))


def _page(request: HttpRequest, wanted: Wanted, lineage: list[Adaptation]) -> Page:
    plain = wanted.address.partition("?")[0]  # one address, whatever is reckoned
    return Page(
        address=request.build_absolute_uri(plain),
        summary=wanted.summary,
        citation=citation_of(request, wanted),
        based_on=_original(request, lineage[0]) if lineage else None,
        absolute=request.build_absolute_uri,
    )


def _original(request: HttpRequest, source: Adaptation) -> dict[str, str]:
    said = {"name": source.title, "version": str(source.number)}
    if source.source:
        said["url"] = request.build_absolute_uri(reverse("procedures:cited", args=[source.source.code]))
    return said


@anyone
@require_safe
def embedding(request: HttpRequest) -> HttpResponse:
    """Anyone: how a page elsewhere may show what everybody may read, by oEmbed."""
    if request.GET.get("format", "json") != "json":
        return JsonResponse({"fault": "Only json is spoken here."}, status=501)
    room = [_room(request.GET.get(name, "")) for name in ("maxwidth", "maxheight")]
    if None in room:
        return JsonResponse({"fault": "maxwidth and maxheight are whole numbers of pixels."}, status=400)
    wanted = _published(request, request.GET.get("url", ""))
    answer = oembed(_page(request, wanted, queries.lineage_of(wanted.procedure)), *(one or 0 for one in room))
    response = JsonResponse(answer)
    response["Cache-Control"] = f"public, max-age={KEPT_FOR}"
    response["Access-Control-Allow-Origin"] = "*"
    return response


def _room(text: str) -> int | None:
    if not text:
        return MOST_ROOM
    is_number = text.isascii() and text.isdigit() and len(text) < 9
    return min(int(text), MOST_ROOM) if is_number and int(text) else None


def _published(request: HttpRequest, url: str) -> Wanted:
    """Return what an address of ours shows to everybody. Raises Http404 for any other."""
    try:
        parts = urlsplit(url)
        found = resolve(parts.path)
    except (ValueError, Resolver404):
        raise Http404("That is no address of this site.") from None
    if parts.scheme not in ("http", "https") or parts.netloc != request.get_host():
        raise Http404("That is no address of this site.")
    stranger = AnonymousUser()
    slug, number = found.kwargs.get("slug", ""), str(found.kwargs.get("number", ""))
    if found.view_name == "procedures:cited":
        cited = cited_revision(stranger, found.kwargs["code"])
        slug, number = cited.procedure.slug, str(cited.number)
    elif found.view_name not in ("procedures:read", "procedures:revision"):
        raise Http404("That page is not shown elsewhere.")
    try:
        procedure = readable_procedure(stranger, slug)
        revision = readable_revision(stranger, procedure, number) if number else procedure.latest
    except Withdrawn:
        raise Http404("It was withdrawn.") from None
    return Wanted(procedure, revision, units_of(request), nominal=False, pinned=bool(number))
