"""The timetable of a class: a page, a print, CSV and a calendar; the address holds all that is asked."""

from __future__ import annotations

from typing import Any
from urllib.parse import parse_qsl, urlencode

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.engine.replay import Replay, replay
from procedures.forms.timetable import TimetableForm
from procedures.models import Procedure
from procedures.planning.figures import FIRE_CHOICES
from procedures.planning.hammers import can_be_powered
from procedures.presenting.class_chart import Chart
from procedures.presenting.class_files import NoBeginning, calendar, turns_csv
from procedures.presenting.class_plan import ClassPlan
from procedures.presenting.class_signs import legend
from procedures.presenting.timetable import key_of, step_times
from procedures.printing.gates import gates
from procedures.printing.timetable import timetable_pdf

from .chosen_shop import ChosenShop, chosen_shop
from .wanted import Wanted, readable, wanted_by

WHOLE = "plan"  # in an address that holds the whole form: boxes that are not in it are not ticked
ROWS = {"students": "By student", "places": "By place"}


@procedure_reader
@readable
@require_safe
def timetable(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: when a class is done, who is where, and what holds it up."""
    wanted = wanted_by(request, procedure)
    replayed = replay(wanted.document, nominal=wanted.nominal)
    chosen = chosen_shop(request, wanted.document)
    form, plan = _asked(request, wanted, replayed)
    by = request.GET.get("rows", "")
    by = by if by in ROWS else "students"
    query = _query(request, form)
    context: dict[str, Any] = {
        "procedure": procedure,
        "wanted": wanted,
        "form": form,
        "asked": [*parse_qsl(wanted.asked, keep_blank_values=True), *chosen.asked.items()],
        "shop": chosen.profile,
        "shop_error": chosen.error,
        "fire": FIRE_CHOICES[chosen.profile.fire],
        "plan": plan,
        "stopped": replayed.stops[:1],
        "query": query,
        "told": any(name in request.GET for name in form.fields),
        "by": by,
        "ways": [_way(one, by, query) for one in ROWS],
    }
    if plan and not plan.error:
        context |= {"chart": Chart(plan, by).svg(), "legend": legend(plan)}
    return render(request, "procedures/timetable/page.html", context, status=422 if form.errors else 200)


@procedure_reader
@readable
@require_safe
def timetable_print(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the same on paper, as PDF."""
    wanted = wanted_by(request, procedure)
    form, plan = _asked(request, wanted, replay(wanted.document, nominal=wanted.nominal))
    if plan is None or plan.error:
        return _refused(form, plan)
    by = "places" if request.GET.get("rows") == "places" else "students"
    version = f"{wanted.version}, {wanted.date}, {wanted.author}, {wanted.document.licence}"
    made = timetable_pdf(plan, wanted.title, version, by)
    response = HttpResponse(made, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{procedure.slug}-timetable.pdf"'
    response["Cache-Control"] = "private, no-cache"
    return response


@procedure_reader
@readable
@require_safe
def timetable_csv(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: every turn as CSV."""
    wanted = wanted_by(request, procedure)
    form, plan = _asked(request, wanted, replay(wanted.document, nominal=wanted.nominal))
    if plan is None or plan.error:
        return _refused(form, plan)
    response = HttpResponse(turns_csv(plan), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{procedure.slug}-timetable.csv"'
    return response


@procedure_reader
@readable
@require_safe
def timetable_calendar(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the session as a calendar."""
    wanted = wanted_by(request, procedure)
    form, plan = _asked(request, wanted, replay(wanted.document, nominal=wanted.nominal))
    if plan is None or plan.error:
        return _refused(form, plan)
    page = request.build_absolute_uri(reverse("procedures:timetable", args=[procedure.slug]))
    try:
        made = calendar(plan, wanted.title, page)
    except NoBeginning as fault:
        return _said(str(fault))
    response = HttpResponse(made, content_type="text/calendar; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{procedure.slug}-timetable.ics"'
    return response


def _asked(request: HttpRequest, wanted: Wanted, replayed: Replay) -> tuple[TimetableForm, ClassPlan | None]:
    """Return the form and the plan: as asked, or the usual where nothing is."""
    powered = [
        (key_of(frame), f"{part.part.name}, {frame.number}. {frame.title}")
        for part in replayed.parts
        for frame in part.frames
        if can_be_powered(frame)
    ]
    chosen = chosen_shop(request, wanted.document)
    form = TimetableForm(powered, _given(request.GET, TimetableForm(powered), chosen))
    if not form.is_valid():
        return form, None
    looks = {part.part.key: gates(part) for part in replayed.parts}
    steps = step_times(replayed, form.pace_in(chosen.profile), looks)
    return form, ClassPlan(steps, form.shop, wanted.units, form.cleaned_data["begins"])


def _given(asked: QueryDict, bare: TimetableForm, chosen: ChosenShop) -> QueryDict:
    """Return what an address holds; for what it leaves out, what there is in the shop, or the usual."""
    given = asked.copy()
    for name, there in chosen.places.items():
        bare.fields[name].initial = there
    ticked = ("power_hammer", "powered", "holds")
    for name, field in bare.fields.items():
        if name in given or (WHOLE in given and name in ticked):
            continue
        usual = bare[name].value()
        if isinstance(usual, list):
            given.setlist(name, usual)
        elif usual is not None and usual is not False:
            given[name] = "on" if usual is True else field.prepare_value(usual)
    return given


def _query(request: HttpRequest, form: TimetableForm) -> str:
    """Return the query of the page as it stands, without how the chart is drawn."""
    kept = [(key, one) for key, values in request.GET.lists() if key != "rows" for one in values]
    return urlencode(kept)


def _way(way: str, now: str, query: str) -> dict[str, object]:
    more = f"rows={way}" if way != "students" else ""
    return {
        "text": ROWS[way],
        "href": "?" + "&".join(one for one in (query, more) if one) + "#chart",
        "current": way == now,
    }


def _refused(form: TimetableForm, plan: ClassPlan | None) -> HttpResponse:
    said = plan.error if plan else ""
    wrong = [str(error) for errors in form.errors.values() for error in errors]
    return _said(said or "; ".join(wrong))


def _said(words: str) -> HttpResponse:
    return HttpResponse(words, status=422, content_type="text/plain; charset=utf-8")
