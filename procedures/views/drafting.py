"""From a drawing: a part described as features, the bar it takes, and a first draft of its procedure."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.http import HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe
from django.views.decorators.vary import vary_on_headers

from calculators.wording import UNIT_SYSTEMS, UnitSystem
from procedures import actions
from procedures.access import MemberRequest, anyone, signed_in
from procedures.actions import Refused
from procedures.drafting.drafting import Draft, drafted
from procedures.drafting.refusing import Undraftable
from procedures.drafting.setting import PART
from procedures.engine import document as engine_document
from procedures.forms.drafting import DrawingForm, changed, example, offered
from procedures.limits import limited
from procedures.middleware import ReaderRequest
from procedures.presenting.drafting import ShownDraft

from .rows import bench_address

PAGES = "procedures/drafting/"


@anyone
@require_safe
@vary_on_headers("HX-Request")
def from_a_drawing(request: ReaderRequest) -> HttpResponse:
    """Anyone: describe a finished part, all in the address, and see the bar it takes and its steps."""
    home = reverse("procedures:from_a_drawing")
    given = _typed(request.GET)
    do = given.get("do")
    if do and not request.htmx:  # a late update may carry the button that is leaving the page
        given, row = changed(given, do)
        return redirect(f"{home}?{urlencode(given)}#f{row}")
    is_example = not given
    form, draft = _answered(given or example(request.units), request.units)
    if request.htmx:
        response = render(request, PAGES + "_update.html", _context(request, form, draft))
        response["HX-Replace-Url"] = f"{home}?{urlencode(form.asked)}"
        return response
    context = {**_context(request, form, draft), "is_example": is_example}
    status = 422 if form.has_faults and form.rows else 200
    return render(request, PAGES + "page.html", context, status=status)


@signed_in
@limited("create")
@require_POST
def make_draft(request: MemberRequest) -> HttpResponse:
    """Anyone signed in: make the drafted procedure one's own, to edit."""
    form, draft = _answered(_typed(request.POST), request.units)
    if draft is not None:
        document = engine_document.write(draft.document)
        try:
            made = actions.create_procedure(document=document, by=request.user)
            return redirect(bench_address(made.slug, PART))
        except Refused as refusal:
            form.add_error(None, str(refusal))
    return render(request, PAGES + "page.html", _context(request, form, draft), status=422)


def _typed(given: QueryDict) -> dict[str, str]:
    """Return what was typed, without what no text holds."""
    return {name: str(text).replace("\0", "") for name, text in given.dict().items()}


def _answered(given: dict[str, str], reader: UnitSystem) -> tuple[DrawingForm, Draft | None]:
    """Return the form and the draft; None where something is wrong, which the form tells."""
    units = UNIT_SYSTEMS.get(given.get("units", ""), reader)
    form = DrawingForm(units, given)
    if not form.is_valid() or form.has_faults:
        return form, None
    try:
        return form, drafted(form.description)
    except Undraftable as fault:
        form.refuse_all(fault)
        return form, None


def _context(request: Any, form: DrawingForm, draft: Draft | None) -> dict[str, Any]:
    return {
        "form": form,
        "shown": ShownDraft(draft, request.units) if draft else None,
        "offered": offered(),
        "asked": form.asked,
        "address": f"{reverse('procedures:from_a_drawing')}?{urlencode(form.asked)}",
    }
