"""The units a reader chose."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from calculators.wording import UNIT_SYSTEMS
from procedures.access import anyone, open_to_blocked
from procedures.middleware import COOKIE

YEAR = 365 * 24 * 3600  # seconds


@anyone
@open_to_blocked
@require_POST
def units(request: HttpRequest) -> HttpResponse:
    """Anyone: remember the units to read in, and go back to where one was."""
    chosen = request.POST.get("units", "")
    if chosen not in UNIT_SYSTEMS:
        return HttpResponseBadRequest(f"Units are one of: {', '.join(UNIT_SYSTEMS)}.")
    back = request.POST.get("next", "/")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}, require_https=request.is_secure()):
        back = "/"
    response = redirect(back)
    response.set_cookie(COOKIE, chosen, max_age=YEAR, samesite="Lax", secure=request.is_secure())
    return response
