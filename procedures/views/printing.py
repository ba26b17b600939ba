"""Printing a procedure: the shop card as PDF."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.models import Procedure
from procedures.printing import Imprint, SheetError, card_pdf, sheet_of
from procedures.printing.sheets import SHEETS, Sheet

from .wanted import Wanted, readable, wanted_by


@procedure_reader
@readable
@require_safe
def card(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the shop card; `?size=` and `?orientation=` choose the paper."""
    wanted = wanted_by(request, procedure)
    try:
        sheet = sheet_of(request.GET.get("size", ""), request.GET.get("orientation", ""))
    except SheetError as error:
        context = {"procedure": procedure, "wanted": wanted, "sheets": SHEETS, "error": str(error)}
        return render(request, "procedures/print/papers.html", context, status=400)
    made = card_pdf(
        wanted.key("card"),
        lambda: wanted.shown(sheet.room),
        sheet,
        imprint_of(request, wanted),
    )
    response = HttpResponse(made, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{file_name(wanted, sheet)}"'
    response["Cache-Control"] = "private, no-cache"
    return response


def imprint_of(request: HttpRequest, wanted: Wanted) -> Imprint:
    """Return what stands on a card besides the procedure."""
    follow = reverse("procedures:follow_start", args=[wanted.procedure.slug])
    return Imprint(
        revision=wanted.version,
        date=wanted.date,
        author=wanted.author,
        follow_url=request.build_absolute_uri(follow),
    )


def file_name(wanted: Wanted, sheet: Sheet) -> str:
    """Return what the file is called when it is saved."""
    version = wanted.version.lower().replace(" ", "-")
    return f"{wanted.procedure.slug}-{version}-{sheet.size.lower()}.pdf"
