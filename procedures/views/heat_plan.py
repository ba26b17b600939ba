"""The heat plan of a procedure: its shop, its table of colours and its step stand in the address."""

from __future__ import annotations

from dataclasses import fields
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
from procedures.planning.figures import FIGURES
from procedures.planning.profile import ProfileError, ShopProfile, read
from procedures.presenting.heat_plan import NAMES, ShownHeatPlan, shop_for
from procedures.queries.heats import heats_used

from .wanted import Wanted, readable, wanted_by

SESSION = "shop"
_FIELDS = tuple(one.name for one in fields(ShopProfile))
_WORDS = ("name", "fuel", "currency", "fire", "skill", "hammer")


@procedure_reader
@readable
@require_safe
def heats(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: heats, blows and minutes of every step, in the shop of the address or the visit."""
    wanted = wanted_by(request, procedure)
    shop, error = shop_of(request, wanted)
    form = ShopForm(wanted.units, shop, request.GET if "set" in request.GET else None)
    if form.is_bound and form.is_valid() and form.profile:
        request.session[SESSION] = form.profile.write()
        return redirect(f"{_base(wanted)}?{_query(wanted, request.GET, form.profile)}#plan")
    names = request.GET.get("names", "")
    shown = ShownHeatPlan(
        replay(wanted.document, nominal=wanted.nominal),
        shop,
        wanted.units,
        names if names in NAMES else next(iter(NAMES)),
        heats_used(request.user, procedure),
    )
    context = _context(request, wanted, shown, shop) | {"form": form, "error": error}
    return render(
        request, "procedures/planning/heats.html", context, status=422 if form.errors or error else 200
    )


def shop_of(request: HttpRequest, wanted: Wanted) -> tuple[ShopProfile, str]:
    """Return the shop of the address, of the visit or a usual one; and what is wrong with the address."""
    usual = shop_for(wanted.document)
    asked = {name: request.GET[name] for name in _FIELDS if name in request.GET}
    if "set" not in request.GET and asked:
        try:
            return read({name: _value(name, text) for name, text in asked.items()}), ""
        except ProfileError as error:
            return usual, error.message
    kept = request.session.get(SESSION)
    if kept:
        try:
            return read(kept), ""
        except ProfileError:  # kept by an earlier release: a visit is no place to mend it
            del request.session[SESSION]
    return usual, ""


def _value(name: str, text: str) -> Any:
    """Return a field of the address as it is stored. Raises ProfileError."""
    if name in _WORDS:
        return text
    if name == "striker":
        return {"1": True, "": False}.get(text, text)
    if text == "":
        return None
    try:
        return float(text)
    except ValueError as error:
        raise ProfileError(name, f"{FIGURES[name].label}: {text[:40]!r} is not a number.") from error


def _context(request: HttpRequest, wanted: Wanted, shown: ShownHeatPlan, shop: ShopProfile) -> dict[str, Any]:
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
        "is_own": shop != shop_for(wanted.document),
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


def _query(wanted: Wanted, given: QueryDict, shop: ShopProfile, *, names: str | None = None) -> str:
    """Return the query that keeps to this version, this shop and this table of colours."""
    stored = {name: _text(value) for name, value in shop.write().items()}
    table = given.get("names", "") if names is None else names
    more = {"names": table} if table in NAMES else {}
    return "&".join(one for one in (wanted.asked, urlencode({**stored, **more})) if one)


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "1" if value else ""
    if isinstance(value, float):
        return f"{value:.10g}"
    return "" if value is None else str(value)
