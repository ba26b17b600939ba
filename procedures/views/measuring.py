"""What a measurement makes of the rest, asked of the site: as a page without script, or as JSON for one."""

from __future__ import annotations

import json
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe
from django.views.decorators.vary import vary_on_headers

from procedures.access import procedure_reader
from procedures.models import Procedure
from procedures.replanning import MOST_MEASURED, Planner

from .wanted import Wanted, readable, wanted_by

MOST = 20_000  # letters of a question


@procedure_reader
@readable
@require_safe
@vary_on_headers("Accept")
def measured(request: HttpRequest, procedure: Procedure, part: str) -> HttpResponse:
    """Who may read it: what the rest becomes of what was measured, which is all in the address."""
    wanted = wanted_by(request, procedure)
    key = next((one["key"] for one in wanted.parts if one["key"] == part), None)
    if key is None:
        raise Http404("There is no such part in this procedure.")
    given = _given(request)
    if given is None:
        return HttpResponse("These measurements do not read.", status=400, content_type="text/plain")
    planner = Planner(wanted.stored, nominal=wanted.nominal, units=wanted.units.id)
    answer = planner.answer(part, given)
    if "application/json" in request.headers.get("Accept", ""):
        return JsonResponse(answer)
    context = {"wanted": wanted, "answer": answer, "given": given, "back": _back(wanted, part, given)}
    return render(request, "procedures/follow/measured.html", context)


def _given(request: HttpRequest) -> list[dict[str, Any]] | None:
    """Return the measurements in a request: JSON in `measured`, or the fields of one step's form."""
    text = request.GET.get("measured")
    if text is None:
        return _from_fields(request)
    try:
        found = json.loads(text) if len(text) <= MOST else None
    except (ValueError, RecursionError):
        return None
    if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
        return None
    return found


def _from_fields(request: HttpRequest) -> list[dict[str, Any]]:
    """Return what was typed in the form of one step: fields such as "run.bar.length"."""
    found: dict[tuple[str, str], dict[str, Any]] = {}
    step = request.GET.get("step", "")
    for name, value in list(request.GET.items())[: 2 * MOST_MEASURED]:
        kind, _, rest = name.partition(".")
        branch, _, size = rest.rpartition(".")
        if kind in ("run", "whole") and size in ("length", "section"):
            one = found.setdefault((kind, branch), {"step": step, "kind": kind, "branch": branch})
            one[size] = value
    return list(found.values())


def _back(wanted: Wanted, part: str, given: list[dict[str, Any]]) -> str:
    """Return the address of the screen that was measured at."""
    keys = [one["key"] for one in next(one for one in wanted.parts if one["key"] == part).get("steps", ())]
    step = given[-1].get("step") if given else None
    number = keys.index(step) + 1 if step in keys else 0
    return reverse("procedures:follow", args=[wanted.procedure.slug, part, number]) + wanted.query
