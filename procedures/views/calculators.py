"""The calculators: every formula there is, and a page for each, made from its own file."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe
from django.views.decorators.vary import vary_on_headers

from calculators.formula import GROUPS
from calculators.formulary import all_formulas, by_group, nearest, search
from calculators.wording import UnitSystem
from procedures.access import anyone
from procedures.middleware import ReaderRequest
from procedures.presenting.calculators import Calculator
from procedures.presenting.edition import content_key
from procedures.presenting.kept import kept
from procedures.printing.bench_card import PAPERS

LONGEST_SEARCH = 60  # characters
PAGES = "procedures/calculators/"


@anyone
@require_safe
@vary_on_headers("HX-Request")
def calculators(request: ReaderRequest) -> HttpResponse:
    """Anyone: all calculators by what they are about, or those that go by the words searched for."""
    words = " ".join(request.GET.get("q", "").replace("\0", " ").split())[:LONGEST_SEARCH]
    context = everything(request.units)
    if words:
        context |= _found(words, request.units) | {"words": words}
    return render(request, PAGES + ("_found.html" if request.htmx else "list.html"), context)


@anyone
@require_safe
@vary_on_headers("HX-Request")
def calculator(request: ReaderRequest, calculator: str) -> HttpResponse:
    """Anyone: what a formula answers to the address's numbers; without any, to its own example."""
    kind = all_formulas().get(calculator)
    if kind is None:
        raise Http404("There is no calculator of this name.")
    page = Calculator(kind, request.GET.dict(), request.units)
    address = reverse("procedures:calculator", args=[page.id]) + (f"?{page.query}" if page.query else "")
    if request.htmx:
        response = render(request, PAGES + "_update.html", {"calculator": page})
        response["HX-Replace-Url"] = address
        return response
    if request.GET.urlencode() != page.query:
        return redirect(address)
    key = content_key("calculator", page.id, request.units.id)
    about = kept(key, lambda: render_to_string(PAGES + "_about.html", {"calculator": page}))
    return render(request, PAGES + "page.html", {"calculator": page, "about": about})


def _found(words: str, units: UnitSystem) -> dict[str, Any]:
    kinds = search(words)
    return {"entries": [Calculator(one, {}, units) for one in kinds], "near": () if kinds else nearest(words)}


def everything(units: UnitSystem) -> dict[str, Any]:
    """Return what the list of all calculators reads."""
    return {"everything": _groups(units), "count": len(all_formulas()), "words": "", "papers": PAPERS}


def _groups(units: UnitSystem) -> SafeString:
    def made() -> str:
        groups = [
            {"key": key, "title": GROUPS[key], "entries": [Calculator(one, {}, units) for one in kinds]}
            for key, kinds in by_group().items()
        ]
        return render_to_string(PAGES + "_groups.html", {"groups": groups})

    return kept(content_key("calculators", units.id), made)
