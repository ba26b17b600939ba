"""The reader's units, known to every view and template; and text sent small."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.middleware.gzip import GZipMiddleware
from django_htmx.middleware import HtmxDetails

from calculators.wording import METRIC, UNIT_SYSTEMS, UnitSystem

COOKIE = "units"


class ReaderRequest(HttpRequest):
    """A request as it is after the middleware: for annotations only."""

    units: UnitSystem
    htmx: HtmxDetails


View = Callable[[HttpRequest], HttpResponse]


def reader_units(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Set `request.units` to the unit system the reader chose; metric until one is chosen."""

    def middleware(request: HttpRequest) -> HttpResponse:
        request.units = units_of(request)  # type: ignore[attr-defined]
        return get_response(request)

    return middleware


def units_of(request: HttpRequest) -> UnitSystem:
    """Return the unit system the reader chose."""
    return UNIT_SYSTEMS.get(request.COOKIES.get(COOKIE, ""), METRIC)


def units(request: HttpRequest) -> dict[str, Any]:
    """Give templates the reader's units."""
    return {"units": getattr(request, "units", METRIC)}


class CompressedText(GZipMiddleware):
    """Sends text compressed, a quarter of it and less: a phone in a shop waits for every byte.

    Photos, PDFs and archives are compressed as they are, and left alone. Django's own middleware hides how
    well a page was compressed, so that nobody can guess a token in it.
    """

    KINDS = ("text/", "application/json", "application/javascript", "image/svg+xml", "model/")

    def process_response(self, request: HttpRequest, response: HttpResponseBase) -> HttpResponseBase:
        if not response.headers.get("Content-Type", "").startswith(self.KINDS):
            return response
        return super().process_response(request, response)
