"""The bench card as PDF."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures.access import anyone
from procedures.middleware import ReaderRequest
from procedures.printing import SheetError
from procedures.printing.bench_card import bench_card_pdf, bench_sheet
from procedures.printing.sheets import choice

from .calculators import PAGES, everything


@anyone
@require_safe
def bench_card(request: ReaderRequest) -> HttpResponse:
    """Anyone: the tables for the wall; the address says which paper, which way, and in which units."""
    units = request.GET.get("units", "")
    try:
        sheet = bench_sheet(request.GET.get("size", ""), request.GET.get("orientation", ""))
        system = (
            UNIT_SYSTEMS[choice("system of units", units, tuple(UNIT_SYSTEMS))] if units else request.units
        )
    except SheetError as error:
        return render(
            request, PAGES + "list.html", everything(request.units) | {"error": str(error)}, status=400
        )
    response = HttpResponse(bench_card_pdf(sheet, system), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="bench-card-{sheet.size.lower()}-{system.id}.pdf"'
    response["Cache-Control"] = "private, no-cache"
    return response
