"""The cost sheet of a procedure: on a page, on paper and as CSV; all that is asked is in the address."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.engine.replay import replay
from procedures.forms.cost import CostForm
from procedures.models import Procedure
from procedures.planning.costs import costs
from procedures.planning.heat_plan import heat_plan
from procedures.presenting.cost import WORDS, CostSheet
from procedures.presenting.cutting import groups_of
from procedures.printing.cost import cost_pdf

from .chosen_shop import ChosenShop, chosen_shop
from .wanted import Wanted, readable, wanted_by


@procedure_reader
@readable
@require_safe
def cost(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: what a batch is likely to cost, in the shop of the address or the visit."""
    asked = _Asked.of(request, wanted_by(request, procedure))
    wanted, chosen, form = asked.wanted, asked.chosen, asked.form
    context: dict[str, Any] = {
        "procedure": procedure,
        "wanted": wanted,
        "form": form,
        "asked": [*parse_qsl(wanted.asked, keep_blank_values=True), *chosen.asked.items()],
        "sheet": asked.sheet,
        "chosen": chosen,
        "shop": shop_words(chosen),
        "stopped": asked.stopped,
        "query": request.GET.urlencode(),
        "words": WORDS,
    }
    bad = form.errors or chosen.error
    return render(request, "procedures/costs/page.html", context, status=422 if bad else 200)


@procedure_reader
@readable
@require_safe
def cost_print(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the same on paper, as PDF."""
    asked = _Asked.of(request, wanted_by(request, procedure))
    if asked.sheet is None:
        return _refused(asked.form)
    wanted = asked.wanted
    version = f"{wanted.version}, {wanted.date}, {wanted.author}"
    for_whom = asked.form.cleaned_data["for_whom"]
    made = cost_pdf(asked.sheet, wanted.title, version, shop_words(asked.chosen), for_whom)
    response = HttpResponse(made, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{procedure.slug}-cost.pdf"'
    response["Cache-Control"] = "private, no-cache"
    return response


@procedure_reader
@readable
@require_safe
def cost_csv(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the same as CSV, a row a line."""
    asked = _Asked.of(request, wanted_by(request, procedure))
    if asked.sheet is None:
        return _refused(asked.form)
    response = HttpResponse(asked.sheet.csv(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{procedure.slug}-cost.csv"'
    response["Cache-Control"] = "private, no-cache"
    return response


@dataclass(frozen=True)
class _Asked:
    """What an address asks for: the form, and its sheet where the form is filled in as it should be."""

    wanted: Wanted
    chosen: ChosenShop
    form: CostForm
    sheet: CostSheet | None
    stopped: bool

    @classmethod
    def of(cls, request: HttpRequest, wanted: Wanted) -> _Asked:
        chosen = chosen_shop(request, wanted.document)
        replayed = replay(wanted.document, nominal=wanted.nominal)
        groups = groups_of(wanted.document.parts)
        bars = chosen.row.bars if chosen.row else ()
        bare = CostForm(wanted.units, groups, chosen.profile, bars)
        given = {name: request.GET.get(name, bare[name].value()) for name in bare.fields}
        form = CostForm(wanted.units, groups, chosen.profile, bars, given)
        sheet = None
        if form.is_valid():
            plan = heat_plan(replayed, chosen.profile, by_steel=chosen.by_steel)
            masses = [(one.part.key, one.start.mass) for one in replayed.parts]
            made = costs(plan, masses, form.prices)
            sheet = CostSheet(made, wanted.units, form.cleaned_data["money"])
        return cls(wanted, chosen, form, sheet, bool(replayed.stops))


def shop_words(chosen: ChosenShop) -> str:
    """Return which shop something is reckoned for."""
    if chosen.row:
        own = " and your own pace" if chosen.by_steel else ""
        return f"your shop, {chosen.row.name}{own}"
    return "a usual shop" if chosen.is_usual else "the shop you put in"


def _refused(form: CostForm) -> HttpResponse:
    wrong = "; ".join(str(error) for errors in form.errors.values() for error in errors)
    return HttpResponse(wrong, status=422, content_type="text/plain; charset=utf-8")
