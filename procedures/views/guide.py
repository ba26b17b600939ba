"""The operation guide: every operation there is, and a page for each, made from its own file."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe
from django.views.decorators.vary import vary_on_headers

from calculators.wording import UnitSystem
from procedures.access import anyone
from procedures.engine.catalogue import by_family, catalogue, find, nearest, search
from procedures.engine.operation import FAMILIES, Operation
from procedures.middleware import ReaderRequest
from procedures.presenting.edition import content_key
from procedures.presenting.kept import kept
from procedures.presenting.operations import OperationPage

LONGEST_SEARCH = 60  # characters
GUIDE = "procedures/guide/"


@anyone
@require_safe
@vary_on_headers("HX-Request")
def operations(request: ReaderRequest) -> HttpResponse:
    """Anyone: all operations by family, or those that go by the words searched for, the likeliest first."""
    words = " ".join(request.GET.get("q", "").replace("\0", " ").split())[:LONGEST_SEARCH]
    context = found(words, request.units) if words else {"everything": everything(request.units)}
    context |= {"words": words, "count": len(catalogue())}
    return render(request, GUIDE + ("_found.html" if request.htmx else "list.html"), context)


@anyone
@require_safe
def operation(request: ReaderRequest, operation: str) -> HttpResponse:
    """Anyone: what an operation does, takes and refuses."""
    kind = find(operation)
    if kind is None:
        raise Http404("There is no operation of this name.")
    page = OperationPage(kind, request.units)
    key = content_key("operation", kind.id, request.units.id)
    body = kept(key, lambda: render_to_string(GUIDE + "_body.html", {"operation": page}))
    return render(request, GUIDE + "page.html", {"operation": page, "body": body})


def found(words: str, units: UnitSystem) -> dict[str, Any]:
    """Return what a search finds, or names that look like what was typed."""
    kinds = search(words)
    return {"entries": [entry_of(one, units) for one in kinds], "near": () if kinds else nearest(words)}


def everything(units: UnitSystem) -> SafeString:
    """Return all operations, by family."""
    return kept(content_key("operations", units.id), lambda: _everything(units))


def _everything(units: UnitSystem) -> str:
    families = [
        {"key": key, "title": FAMILIES[key], "entries": [entry_of(one, units) for one in kinds]}
        for key, kinds in by_family().items()
    ]
    return render_to_string(GUIDE + "_families.html", {"families": families})


def entry_of(kind: type[Operation], units: UnitSystem) -> SafeString:
    """Return an operation as an entry of the list, with what its first example leaves drawn."""
    key = content_key("operation-entry", kind.id, units.id)
    context = {"operation": OperationPage(kind, units)}
    return kept(key, lambda: render_to_string(GUIDE + "_entry.html", context))
