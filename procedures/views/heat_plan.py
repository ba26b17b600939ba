"""The heat plan of a procedure: its shop, its table of colours and its step stand in the address."""

from __future__ import annotations

from typing import Any
from urllib.parse import parse_qsl, urlencode

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from procedures.access import procedure_reader
from procedures.engine.replay import replay
from procedures.forms.shop_profile import ShopForm
from procedures.models import Procedure
from procedures.presenting.heat_plan import NAMES, ShownHeatPlan
from procedures.queries.heats import heats_used, told_of

from .chosen_shop import ChosenShop, chosen_shop, keep_for_visit
from .wanted import Wanted, readable, wanted_by


@procedure_reader
@readable
@require_safe
def heats(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: heats, blows and minutes of every step, in the shop of the address or the visit."""
    wanted = wanted_by(request, procedure)
    chosen = chosen_shop(request, wanted.document)
    form = ShopForm(wanted.units, chosen.profile, request.GET if "set" in request.GET else None)
    if form.is_bound and form.is_valid() and form.profile:
        keep_for_visit(request, form.profile)
        set_so = ChosenShop(form.profile)
        return redirect(f"{_base(wanted)}?{_query(wanted, request.GET, set_so)}#plan")
    names = request.GET.get("names", "")
    shown = ShownHeatPlan(
        replay(wanted.document, nominal=wanted.nominal),
        chosen.profile,
        wanted.units,
        names if names in NAMES else next(iter(NAMES)),
        heats_used(request.user, procedure),
        chosen.by_steel,
    )
    context = _context(request, wanted, shown, chosen) | {"form": form, "error": chosen.error}
    bad = form.errors or chosen.error
    return render(request, "procedures/planning/heats.html", context, status=422 if bad else 200)


def _context(request: HttpRequest, wanted: Wanted, shown: ShownHeatPlan, shop: ChosenShop) -> dict[str, Any]:
    part, _, step = request.GET.get("step", "").partition(".")
    query = _query(wanted, request.GET, shop)
    own = "&".join(
        [
            *filter(None, [_query(wanted, request.GET, shop, names="")]),
            *([urlencode({"step": f"{part}.{step}"})] if step else []),
        ]
    )
    return {
        "procedure": wanted.procedure,
        "wanted": wanted,
        "shown": shown,
        "detail": shown.detail(part, step) if step else None,
        "losses": shown.losses() if "losses" in request.GET and not wanted.nominal else None,
        "may_reckon_losses": not wanted.nominal,
        "query": query,
        "asked": parse_qsl(wanted.asked, keep_blank_values=True),
        "tables": _tables(own, shown.names),
        "chosen": shop,
        "told": told_of(wanted.procedure),
        "figures": urlencode(shop.figures),
        "own_loss": shown.own_loss(shop.lessons) if "losses" in request.GET and shop.lessons else None,
    }


def _tables(query: str, names: str) -> list[dict[str, object]]:
    """Return the tables of heat colours to choose from, as links that keep all else."""
    more = f"{query}&" if query else ""
    return [
        {"text": title, "href": f"?{more}names={key}#step", "current": key == names}
        for key, (title, _) in NAMES.items()
    ]


def _base(wanted: Wanted) -> str:
    return reverse("procedures:heats", args=[wanted.procedure.slug])


def _query(wanted: Wanted, given: QueryDict, shop: ChosenShop, *, names: str | None = None) -> str:
    """Return the query that keeps to this version, this shop and this table of colours."""
    table = given.get("names", "") if names is None else names
    more = {"names": table} if table in NAMES else {}
    return "&".join(one for one in (wanted.asked, urlencode({**shop.asked, **more})) if one)
