"""Printing a procedure: the page of choices, and the shop card as PDF."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from urllib.parse import parse_qsl

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures.access import procedure_reader
from procedures.forms.printing import CardForm
from procedures.models import Procedure
from procedures.printing import Imprint, SheetError, card_pdf
from procedures.printing.choices import Choices, choices_of

from .wanted import Wanted, readable, wanted_by

COOKIE = "print"  # the choices of the last print
YEAR = 365 * 24 * 3600  # seconds


@procedure_reader
@readable
@require_safe
def print_page(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: choose what is printed; what was chosen last is chosen still."""
    wanted = wanted_by(request, procedure)
    try:
        chosen = choices_of({**remembered(request), **request.GET.dict()}, _keys(wanted))
    except SheetError as error:
        return _page(request, wanted, Choices(), str(error))
    return _page(request, wanted, chosen)


@procedure_reader
@readable
@require_safe
def card(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the shop card; the address says which paper, hand, units and part."""
    wanted = wanted_by(request, procedure)
    try:
        chosen = choices_of(request.GET.dict(), _keys(wanted))
    except SheetError as error:
        return _page(request, wanted, Choices(), str(error))
    if chosen.units:
        wanted = replace(wanted, units=UNIT_SYSTEMS[chosen.units])
    made = card_pdf(
        wanted.key("card"),
        lambda: wanted.shown(chosen.sheet.room),
        chosen.sheet,
        imprint_of(request, wanted),
        chosen.contents,
    )
    return pdf_response(request, made, file_name(wanted, chosen), chosen)


def pdf_response(request: HttpRequest, made: bytes, name: str, chosen: Choices) -> HttpResponse:
    """Return a PDF to be looked at, and remember how it was printed."""
    response = HttpResponse(made, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}"'
    response["Cache-Control"] = "private, no-cache"
    if request.GET:
        response.set_cookie(
            COOKIE,
            chosen.remembered,
            max_age=YEAR,
            samesite="Lax",
            secure=request.is_secure(),
            httponly=True,
        )
    return response


def remembered(request: HttpRequest) -> Mapping[str, str]:
    """Return the choices of the last print; none where they are no choices any more."""
    kept = dict(parse_qsl(request.COOKIES.get(COOKIE, "")[:500]))
    try:
        choices_of(kept)
    except SheetError:
        return {}
    return kept


def imprint_of(request: HttpRequest, wanted: Wanted) -> Imprint:
    """Return what stands on a card besides the procedure."""
    kept_to = f"?revision={wanted.number}" if wanted.pinned else ""
    follow = reverse("procedures:follow_start", args=[wanted.procedure.slug]) + kept_to
    full_size = reverse("procedures:full_size", args=[wanted.procedure.slug]) + kept_to
    return Imprint(
        revision=wanted.version,
        date=wanted.date,
        author=wanted.author,
        follow_url=request.build_absolute_uri(follow),
        full_size_url=request.build_absolute_uri(full_size),
        rights=wanted.rights,
        licence=wanted.document.licence,
    )


def file_name(wanted: Wanted, chosen: Choices) -> str:
    """Return what the file is called when it is saved."""
    words = [wanted.procedure.slug, wanted.version, chosen.contents.part, chosen.sheet.size]
    words += ["left-handed"] if chosen.sheet.is_left else []
    return "-".join(one.lower().replace(" ", "-") for one in words if one) + ".pdf"


def _keys(wanted: Wanted) -> list[str]:
    return [str(one["key"]) for one in wanted.parts]


def _page(request: HttpRequest, wanted: Wanted, chosen: Choices, error: str = "") -> HttpResponse:
    parts = [(str(one["key"]), str(one["name"])) for one in wanted.parts]
    context = {
        "procedure": wanted.procedure,
        "wanted": wanted,
        "form": CardForm(chosen, wanted.units, parts),
        "error": error,
        "draft": "draft" in request.GET,
    }
    return render(request, "procedures/print/page.html", context, status=400 if error else 200)
