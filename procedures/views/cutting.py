"""The cutting list of a procedure: on a page that prints, and as CSV; all that is asked is in the address."""

from __future__ import annotations

from typing import Any
from urllib.parse import parse_qsl

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.forms.cutting import CuttingForm
from procedures.models import Procedure
from procedures.presenting.cutting import CuttingList

from .wanted import Wanted, readable, wanted_by


@procedure_reader
@readable
@require_safe
def cutting_list(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: what to cut from which bars, with the least new bar."""
    wanted = wanted_by(request, procedure)
    form, found = _asked(request, wanted)
    context: dict[str, Any] = {
        "procedure": procedure,
        "wanted": wanted,
        "form": form,
        "asked": parse_qsl(wanted.asked, keep_blank_values=True),
        "found": found,
        "query": request.GET.urlencode(),
    }
    return render(request, "procedures/stock/cutting_list.html", context, status=422 if form.errors else 200)


@procedure_reader
@readable
@require_safe
def cutting_list_csv(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the same as CSV, a row a piece."""
    form, found = _asked(request, wanted_by(request, procedure))
    if found is None:
        said = "; ".join(str(error) for errors in form.errors.values() for error in errors)
        return HttpResponse(said, status=422, content_type="text/plain; charset=utf-8")
    response = HttpResponse(found.csv(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{procedure.slug}-cutting-list.csv"'
    return response


def _asked(request: HttpRequest, wanted: Wanted) -> tuple[CuttingForm, CuttingList | None]:
    """Return the form and the list: as asked, or the usual where nothing is."""
    bare = CuttingForm(wanted.units, wanted.document)
    usual = {name: field.get_bound_field(bare, name).value() for name, field in bare.fields.items()}
    given = {name: request.GET.get(name, usual[name]) for name in bare.fields}
    form = CuttingForm(wanted.units, wanted.document, given)
    return form, CuttingList(form.wish, wanted.units) if form.is_valid() else None
