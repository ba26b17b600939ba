"""The cutting list of a procedure: on a page that prints, and as CSV; all that is asked is in the address."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import parse_qsl

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from procedures import queries
from procedures.access import procedure_reader
from procedures.engine.document import Part
from procedures.forms.cutting import CuttingForm
from procedures.models import Procedure
from procedures.presenting.cutting import CuttingList

from .chosen_shop import chosen_shop
from .wanted import Wanted, readable, wanted_by

MOST_OTHERS = 5  # procedures cut with one
MOST_OFFERED = 100


@procedure_reader
@readable
@require_safe
def cutting_list(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: what to cut from which bars, with the least new bar."""
    wanted = wanted_by(request, procedure)
    others = _others(request, procedure)
    form, found = _asked(request, wanted, others)
    context: dict[str, Any] = {
        "procedure": procedure,
        "wanted": wanted,
        "form": form,
        "asked": parse_qsl(wanted.asked, keep_blank_values=True),
        "found": found,
        "others": others,
        "shop": chosen_shop(request, wanted.document).row,
        "query": request.GET.urlencode(),
    }
    return render(request, "procedures/stock/cutting_list.html", context, status=422 if form.errors else 200)


@procedure_reader
@readable
@require_safe
def cutting_list_csv(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the same as CSV, a row a piece."""
    form, found = _asked(request, wanted_by(request, procedure), _others(request, procedure))
    if found is None:
        said = "; ".join(str(error) for errors in form.errors.values() for error in errors)
        return HttpResponse(said, status=422, content_type="text/plain; charset=utf-8")
    response = HttpResponse(found.csv(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{procedure.slug}-cutting-list.csv"'
    return response


@dataclass(frozen=True)
class _Others:
    """Other procedures whose parts are cut with these: those chosen, and those that can be."""

    chosen: tuple[Procedure, ...]
    offered: tuple[Procedure, ...]

    def parts(self, visitor: Any) -> Iterator[Part]:
        """Yield their parts, each under a key and a name that tells whose it is."""
        for one in self.chosen:
            document = queries.readable_document(one, visitor)
            for part in document.parts:
                yield replace(part, key=f"{one.slug}-{part.key}", name=f"{document.title}: {part.name}")


def _others(request: HttpRequest, procedure: Procedure) -> _Others:
    """Return the procedures asked for beside this one. Raises Http404."""
    slugs = [*request.GET.getlist("with"), request.GET.get("add", "")]
    asked = [one for one in dict.fromkeys(slugs) if one and one != procedure.slug][:MOST_OTHERS]
    readable_ones = queries.readable_procedures(request.user).exclude(pk=procedure.pk)
    by_slug = {one.slug: one for one in readable_ones.filter(slug__in=asked)}
    if len(by_slug) < len(asked):
        raise Http404("There is no such procedure here.")
    offered = () if len(asked) == MOST_OTHERS else tuple(readable_ones.exclude(slug__in=asked)[:MOST_OFFERED])
    return _Others(tuple(by_slug[one] for one in asked), offered)


def _asked(request: HttpRequest, wanted: Wanted, others: _Others) -> tuple[CuttingForm, CuttingList | None]:
    """Return the form and the list: as asked, or the usual where nothing is."""
    parts = [*wanted.document.parts, *others.parts(request.user)]
    shop = chosen_shop(request, wanted.document).row
    bars = shop.bars if shop else ()
    bare = CuttingForm(wanted.units, parts, bars=bars)
    usual = {name: field.get_bound_field(bare, name).value() for name, field in bare.fields.items()}
    given = {name: request.GET.get(name, usual[name]) for name in bare.fields}
    form = CuttingForm(wanted.units, parts, given, bars)
    return form, CuttingList(form.wish, wanted.units) if form.is_valid() else None
