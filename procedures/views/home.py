"""The front page and the list of public procedures."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.core.cache import cache
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.views.decorators.http import require_safe

from calculators.wording import UnitSystem
from procedures import queries
from procedures.access import anyone
from procedures.engine import document
from procedures.models import Procedure
from procedures.presenting import PHONE, Fact, present
from procedures.presenting.edition import content_key

KEPT = 30 * 24 * 3600  # seconds
ON_THE_FRONT_PAGE = 6
ON_A_PAGE = 24
LONGEST_SEARCH = 100  # characters

Entry = dict[str, Any]


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


def entries_of(procedures: Iterable[Procedure], units: UnitSystem) -> list[Entry]:
    """Return public procedures as the entry component takes them; each is replayed and drawn once."""
    keys = {one: content_key("entry", one.latest.digest, units.id) for one in procedures if one.latest}
    kept = cache.get_many(keys.values())
    made = {key: _entry(one, units) for one, key in keys.items() if key not in kept}
    if made:
        cache.set_many(made, KEPT)
    kept |= made
    return [kept[key] | _whose(one) for one, key in keys.items()]


def _entry(procedure: Procedure, units: UnitSystem) -> Entry:
    """Return what an entry shows of the latest revision's document."""
    assert procedure.latest is not None
    shown = present(document.read(procedure.latest.document, draft=True), units, room=PHONE)
    first = shown.parts[0]
    facts = [Fact("level", shown.level), Fact("bar", first.stock), Fact("heats", str(shown.all_heats))]
    if len(shown.parts) > 1:
        facts.insert(1, Fact("parts", str(len(shown.parts))))
    return {
        "title": shown.title,
        "lead": shown.document.summary.split("\n")[0],
        "facts": facts,
        "drawing": first.portrait,
    }


def _whose(procedure: Procedure) -> Entry:
    assert procedure.latest is not None
    return {
        "href": procedure.get_absolute_url(),
        "by": procedure.owner.get_username(),
        "when": date_format(localtime(procedure.latest.published_at), "j F Y"),
    }


def _units(request: HttpRequest) -> UnitSystem:
    units: UnitSystem = request.units  # type: ignore[attr-defined]  # set by middleware
    return units


def _query(request: HttpRequest) -> str:
    """Return the search as the links to other pages keep it, ending in &."""
    query = request.GET.copy()
    query.pop("page", None)
    return f"{query.urlencode()}&" if query else ""
