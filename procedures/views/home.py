"""The front page, and procedures as entries of lists."""

from __future__ import annotations

from collections.abc import Iterable

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
from procedures.presenting.kept import is_kept, kept

ON_THE_FRONT_PAGE = 6


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


def entries_of(procedures: Iterable[Procedure], units: UnitSystem) -> list[SafeString]:
    """Return published procedures as entries of a list; each is replayed and drawn once.

    Documents that were left in the database are fetched together, and only those not drawn yet.
    """
    shown = [(one, one.latest) for one in procedures if one.latest]
    new = {revision.pk: revision for one, revision in shown if not is_kept(_key(one, revision, units))}
    if left := [pk for pk, revision in new.items() if "document" in revision.get_deferred_fields()]:
        for pk, stored in Revision.objects.filter(pk__in=left).values_list("pk", "document"):
            new[pk].document = stored
    return [entry_of(one, revision, units) for one, revision in shown]


def entry_of(procedure: Procedure, revision: Revision, units: UnitSystem) -> SafeString:
    """Return the entry of a procedure's latest revision."""
    return kept(_key(procedure, revision, units), lambda: _entry(procedure, revision, units))


def _key(procedure: Procedure, revision: Revision, units: UnitSystem) -> str:
    author = procedure.owner.get_username()
    return content_key(
        "entry", revision.digest, units.id, procedure.slug, author, revision.published_at.date()
    )


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
