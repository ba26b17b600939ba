"""Shops that are kept: one's own and those of one's guilds, and which of them is planned in."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions
from procedures.access import MemberRequest, anyone, may_keep_shop, shop_keeper, shop_user, signed_in
from procedures.actions import Refused
from procedures.forms.shops import PLACES, OwnShopForm
from procedures.limits import limited
from procedures.models import Shop
from procedures.planning.profile import default
from procedures.presenting.shops import bars_told, shop_told
from procedures.queries import shops as shop_queries

from .chosen_shop import SESSION, keep_for_visit, profile_asked
from .wanted import units_of

HTML = "procedures/shops/"


@anyone
@require_safe
def shops(request: HttpRequest) -> HttpResponse:
    """Anyone: the shops one may plan in, and which one is planned in."""
    own = list(shop_queries.usable_shops(request.user))
    used = shop_queries.used_shop(request.user)
    context = {
        "rows": [(one, shop_told(shop_queries.profile_of(one), units_of(request))) for one in own],
        "used": used,
        "visit": SESSION in request.session,
        "usual": shop_told(default(), units_of(request)),
    }
    return render(request, HTML + "list.html", context)


@anyone
@limited("shop")
@require_POST
def use_shop(request: HttpRequest) -> HttpResponse:
    """Anyone: plan in a shop from now on; a visitor, in a usual one again."""
    number = request.POST.get("shop", "")
    row = shop_queries.usable_shop(request.user, number) if number else None
    if number and row is None:
        raise Http404("You have no such shop.")
    keep_for_visit(request, None)
    if request.user.is_authenticated:
        actions.use_shop(shop=row, by=request.user)
    messages.success(request, f"Heats and blows are reckoned for {row.name if row else 'a usual shop'} now.")
    return redirect("procedures:shops")


@signed_in
@limited("shop")
@require_http_methods(["GET", "HEAD", "POST"])
def new_shop(request: MemberRequest) -> HttpResponse:
    """Signed in: keep a shop of one's own, or one of a guild whose drafts one works at."""
    guilds = list(shop_queries.guilds_with_shops(request.user))
    data = request.POST if request.method == "POST" else None
    form = OwnShopForm(units_of(request), profile_asked(request), data=data)
    if guilds:
        form.fields["of"] = forms.ChoiceField(
            label="Whose it is",
            choices=[("", "Mine"), *((str(one.pk), one.name) for one in guilds)],
            required=False,
        )
    if form.is_valid() and form.profile:
        guild = next((one for one in guilds if str(one.pk) == form.cleaned_data.get("of")), None)
        try:
            made = actions.make_shop(
                profile=form.profile, bars=form.bars, places=form.places, guild=guild, by=request.user
            )
            messages.success(request, f"{made.name} is kept.")
            return redirect(made)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    return _form(request, form, None)


@shop_user
@require_safe
def own_shop(request: MemberRequest, shop: Shop) -> HttpResponse:
    """Who may plan in it: what it predicts with, and what lies in it."""
    units = units_of(request)
    used = shop_queries.used_shop(request.user)
    context = {
        "shop": shop,
        "profile": shop_queries.profile_of(shop),
        "told": shop_told(shop_queries.profile_of(shop), units, whole=True),
        "places": [(label, getattr(shop, name)) for name, label, _ in PLACES],
        "bars": bars_told(shop.bars, units, shop.stored.get("currency", "")),
        "may_keep": may_keep_shop(request.user, shop),
        "is_used": used is not None and used.pk == shop.pk,
    }
    return render(request, HTML + "page.html", context)


@shop_keeper
@limited("shop")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_shop(request: MemberRequest, shop: Shop) -> HttpResponse:
    """Who may change it: all of a shop."""
    places = {name: getattr(shop, name) for name, _, _ in PLACES}
    data = request.POST if request.method == "POST" else None
    form = OwnShopForm(units_of(request), shop_queries.profile_of(shop), shop.bars, places, data)
    if form.is_valid() and form.profile:
        try:
            actions.edit_shop(
                shop=shop,
                profile=form.profile,
                bars=form.bars,
                places=form.places,
                base=request.POST.get("base"),
                by=request.user,
            )
            messages.success(request, "Kept.")
            return redirect(shop)
        except Refused as refusal:
            form.add_error(None, str(refusal))
            return _form(request, form, shop, status=409)
    return _form(request, form, shop)


def _form(
    request: HttpRequest, form: OwnShopForm, shop: Shop | None, status: int | None = None
) -> HttpResponse:
    """Return the page of the form; a form that somebody else overtook is saved over theirs the next time."""
    base = request.POST.get("base") if shop and form.is_bound and status is None else None
    context: dict[str, Any] = {
        "form": form,
        "shop": shop,
        "base": base or (actions.shop_digest(shop) if shop else ""),
    }
    return render(request, HTML + "form.html", context, status=status or (422 if form.is_bound else 200))


@shop_keeper
@limited("shop")
@require_http_methods(["GET", "HEAD", "POST"])
def delete_shop(request: MemberRequest, shop: Shop) -> HttpResponse:
    """Who may change it: delete a shop, after being asked once more."""
    if request.method == "POST":
        actions.delete_shop(shop=shop, by=request.user)
        messages.success(request, f"{shop.name} was deleted.")
        return redirect("procedures:shops")
    context = {
        "heading": f"Delete {shop.name}?",
        "text": "Its figures and bars go, and which pieces were forged in it, with what was counted at them.",
        "losses": ["Runs and results stay: another shop can learn from them."],
        "action_url": request.path,
        "action": "Delete the shop",
        "cancel_url": shop.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)
