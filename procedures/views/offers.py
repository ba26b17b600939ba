"""Changes of an adaptation offered back to the author of the original, and what became of them."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from procedures import actions, queries
from procedures.access import MemberRequest, may_edit, offer_party, procedure_editor
from procedures.actions import Refused
from procedures.engine.parameters.fields import DocumentError
from procedures.forms.sharing import OfferForm
from procedures.limits import limited
from procedures.models import Offer, OfferedChange, Procedure
from procedures.presenting.adapting import ShownChange

from .adapting import shown_between
from .answers import readable_draft

HTML = "procedures/sharing/"


@procedure_editor
@readable_draft
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def offer_back(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner of an adaptation: offer changes of it to the author of the original, with a note."""
    lineage = queries.adaptation_of(procedure)
    if lineage is None or lineage.caught_up is None or not lineage.caught_up.procedure.is_published:
        raise Http404("There is no published original to offer anything to.")
    ticked = request.POST.getlist("change")
    form = OfferForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            offer = actions.offer_back(
                procedure=procedure, names=ticked, note=form.cleaned_data["note"], by=request.user
            )
            messages.success(request, f"Offered to {offer.to.owner.get_username()}.")
            return redirect(offer)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    base = lineage.caught_up.document
    context = {
        "procedure": procedure,
        "lineage": lineage,
        "form": form,
        "ticked": ticked,
        "changes": shown_between(request, base, procedure.document, base),
    }
    return render(request, HTML + "offer_back.html", context, status=422 if form.is_bound else 200)


@procedure_editor
@require_safe
def offers(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner: what was offered to it, and what was offered of it."""
    context = {"procedure": procedure, "offers": queries.offers_of(procedure)}
    return render(request, HTML + "offers.html", context)


@offer_party
@limited("talk")
@require_http_methods(["GET", "HEAD", "POST"])
def offer(request: MemberRequest, offer: Offer) -> HttpResponse:
    """Who offered it, and the author it was offered to: its changes, answered one by one by the author."""
    is_author = may_edit(request.user, offer.to)
    if request.method == "POST":
        try:
            _answered(request, offer, is_author=is_author)
        except Refused as refusal:
            messages.error(request, str(refusal))
        return redirect(offer)
    context = {
        "offer": offer,
        "is_author": is_author,
        "is_giver": offer.by_id == request.user.pk,
        "rows": _rows(request, offer, is_author=is_author),
    }
    return render(request, HTML + "offer.html", context)


def _answered(request: MemberRequest, offer: Offer, *, is_author: bool) -> None:
    """Do what a button asks for. Raises Refused."""
    data = request.POST
    if "take_back" in data and offer.by_id == request.user.pk:
        actions.take_offer_back(offer=offer, by=request.user)
        messages.success(request, "Taken back.")
    elif "accept" in data and is_author:
        actions.accept_change(offer=offer, name=data["accept"], by=request.user)
        messages.success(
            request, "It is in your draft. Undo at the bench takes it back; publish to share it."
        )
    elif "decline" in data and is_author:
        reason = data.get("reason", "").strip()[:500]
        actions.decline_change(offer=offer, name=data["decline"], reason=reason, by=request.user)
        messages.success(request, "Declined.")
    else:
        raise Refused("Only the author answers an offer, and only who made it takes it back.")


def _rows(request: MemberRequest, offer: Offer, *, is_author: bool) -> list[dict[str, Any]]:
    """Return the changes offered with their states; beside the author's draft for the author alone."""
    mine = offer.to.document if is_author else offer.base
    try:
        known = shown_between(request, offer.base, offer.document, mine)
    except DocumentError:  # written for another release: the labels are left
        known = []
    shown: dict[str, ShownChange] = {one.name: one for one in known}
    return [
        {"offered": one, "shown": shown.get(one.name), "is_open": _is_open(offer, one)}
        for one in offer.changes.all()
    ]


def _is_open(offer: Offer, change: OfferedChange) -> bool:
    return change.state == OfferedChange.State.OPEN and offer.taken_back is None
