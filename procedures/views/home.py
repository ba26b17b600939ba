"""The front page and the list of public procedures."""

from __future__ import annotations

from collections.abc import Iterable

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.formats import date_format
from django.utils.safestring import SafeString
from django.utils.timezone import localtime
from django.views.decorators.http import require_safe

from calculators.wording import UnitSystem
from procedures import queries
from procedures.access import anyone
from procedures.engine import document
from procedures.models import Procedure, Revision
from procedures.presenting import PHONE, Fact, present
from procedures.presenting.edition import content_key
from procedures.presenting.kept import kept

ON_THE_FRONT_PAGE = 6
ON_A_PAGE = 24
LONGEST_SEARCH = 100  # characters


@anyone
@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """Anyone: what forgesite is, and the newest procedures."""
    newest = queries.public_procedures()[: ON_THE_FRONT_PAGE + 1]
    found = list(newest)
    context = {
        "entries": entries_of(found[:ON_THE_FRONT_PAGE], _units(request)),
        "has_more": len(found) > ON_THE_FRONT_PAGE,
    }
    return render(request, "procedures/home/page.html", context)


@anyone
@require_safe
def procedure_list(request: HttpRequest) -> HttpResponse:
    """Anyone: all public procedures, or those whose title holds the words searched for."""
    words = " ".join(request.GET.get("q", "").replace("\0", " ").split())[:LONGEST_SEARCH]
    found = queries.public_procedures()
    for word in words.split():
        found = found.filter(latest__title__icontains=word)
    page = Paginator(found, ON_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "words": words,
        "page": page,
        "entries": entries_of(page.object_list, _units(request)),
        "query": _query(request),
    }
    return render(request, "procedures/home/list.html", context)


def entries_of(procedures: Iterable[Procedure], units: UnitSystem) -> list[SafeString]:
    """Return public procedures as entries of a list; each is replayed and drawn once."""
    return [entry_of(one, one.latest, units) for one in procedures if one.latest]


def entry_of(procedure: Procedure, revision: Revision, units: UnitSystem) -> SafeString:
    """Return the entry of a procedure's latest revision."""
    author = procedure.author
    key = content_key(
        "entry", revision.digest, units.id, procedure.slug, author, revision.published_at.date()
    )
    return kept(key, lambda: _entry(procedure, revision, units))


def _entry(procedure: Procedure, revision: Revision, units: UnitSystem) -> str:
    shown = present(document.read(revision.document, draft=True), units, room=PHONE)
    first = shown.parts[0]
    facts = [Fact("level", shown.level), Fact("bar", first.stock), Fact("heats", str(shown.all_heats))]
    if len(shown.parts) > 1:
        facts.insert(1, Fact("parts", str(len(shown.parts))))
    context = {
        "href": procedure.get_absolute_url(),
        "title": shown.title,
        "lead": shown.document.summary.split("\n")[0],
        "facts": facts,
        "drawing": first.portrait,
        "by": procedure.author,
        "when": date_format(localtime(revision.published_at), "j F Y"),
    }
    return render_to_string("components/entry.html", context)


def _units(request: HttpRequest) -> UnitSystem:
    units: UnitSystem = request.units  # type: ignore[attr-defined]  # set by middleware
    return units


def _query(request: HttpRequest) -> str:
    """Return the search as the links to other pages keep it, ending in &."""
    query = request.GET.copy()
    query.pop("page", None)
    return f"{query.urlencode()}&" if query else ""
