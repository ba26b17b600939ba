"""What one's own pieces taught a shop, what is asked about, and the pieces themselves."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from procedures import actions
from procedures.access import MemberRequest, shop_piece_of, shop_user
from procedures.actions import Refused
from procedures.forms.shops import CountForm
from procedures.limits import limited
from procedures.models import Result, Run, Shop, ShopPiece
from procedures.presenting.learnt import asked_said, shown_beliefs
from procedures.queries import shops as shop_queries
from procedures.queries.runs import uuid_or_none

from .wanted import units_of

HTML = "procedures/shops/"
ON_A_PAGE = 30
OFFERED = 12  # runs and results that can still be taken in


@shop_user
@require_safe
def learnt(request: MemberRequest, shop: Shop) -> HttpResponse:
    """Who may plan in it: what one's own pieces taught, and nobody else's."""
    lessons, units = shop_queries.lessons(shop, request.user), units_of(request)
    pieces = Paginator(shop_queries.pieces_of(shop, request.user), ON_A_PAGE)
    context = {
        "shop": shop,
        "beliefs": shown_beliefs(lessons, units),
        "asked": [(one, asked_said(one, units)) for one in lessons.asked],
        "page": pieces.get_page(request.GET.get("page")),
        "results": shop_queries.unplaced_results(request.user)[:OFFERED],
        "runs": shop_queries.unplaced_runs(request.user)[:OFFERED],
    }
    return render(request, HTML + "learnt.html", context)


@shop_user
@limited("shop")
@require_POST
def place_in_shop(request: MemberRequest, shop: Shop) -> HttpResponse:
    """Who may plan in it: say that a run or a result of one's own was forged there."""
    run, result = _own_run(request), _own_result(request)
    if run is None and result is None:
        raise Http404("You have no such piece.")
    try:
        piece = actions.forged_in(shop=shop, run=run, result=result, by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("procedures:learnt", shop=shop.pk)
    messages.success(request, f"{shop.name} learns from it.")
    return redirect(piece)


def _own_run(request: MemberRequest) -> Run | None:
    key = uuid_or_none(request.POST.get("run"))
    known = Run.objects.select_related("revision")
    return known.filter(pk=key, owner_id=request.user.pk).first() if key else None


def _own_result(request: MemberRequest) -> Result | None:
    text = request.POST.get("result", "")
    known = Result.objects.select_related("revision", "run__revision")
    is_number = text.isascii() and text.isdigit() and len(text) < 10
    return known.filter(pk=int(text), by_id=request.user.pk).first() if is_number else None


@shop_user
@limited("shop")
@require_http_methods(["GET", "HEAD", "POST"])
def shop_piece(request: MemberRequest, shop: Shop, piece: int) -> HttpResponse:
    """Who forged it: say what was counted at its steps."""
    found = shop_piece_of(request.user, shop, piece)
    plan = shop_queries.expected_of(found.revision, shop_queries.profile_of(shop))
    worked = [one for one in plan if one.blows or one.seconds]
    steps = [(one.part, one.step, f"step {one.number}, {one.title.lower()}") for one in worked]
    form = CountForm(steps, found.counted, request.POST if request.method == "POST" else None)
    if form.is_valid():
        actions.count_piece(piece=found, counted=form.counted, by=request.user)
        messages.success(request, "Kept.")
        return redirect("procedures:learnt", shop=shop.pk)
    context = {"shop": shop, "piece": found, "form": form, "rows": zip(worked, form.rows, strict=True)}
    return render(request, HTML + "piece.html", context, status=422 if form.is_bound else 200)


@shop_user
@limited("shop")
@require_POST
def answer_reading(request: MemberRequest, shop: Shop, piece: int) -> HttpResponse:
    """Who forged it: say whether a reading that was asked about counts."""
    found = shop_piece_of(request.user, shop, piece)
    reading = request.POST.get("reading", "")
    known = {one.key for one in shop_queries.lessons(shop, request.user).readings if one.piece == found.pk}
    if reading not in known or request.POST.get("counts") not in ("yes", "no"):
        raise Http404("There is no such reading of yours here.")
    counts = request.POST["counts"] == "yes"
    actions.answer_reading(piece=found, reading=reading, counts=counts, by=request.user)
    messages.success(request, "It counts." if counts else "It is left out.")
    return redirect("procedures:learnt", shop=shop.pk)


@shop_user
@limited("shop")
@require_http_methods(["GET", "HEAD", "POST"])
def take_out_of_shop(request: MemberRequest, shop: Shop, piece: int) -> HttpResponse:
    """Who forged it: let the shop learn from it no longer, after being asked once more."""
    found: ShopPiece = shop_piece_of(request.user, shop, piece)
    back = reverse("procedures:learnt", args=[shop.pk])
    if request.method == "POST":
        actions.take_out_of_shop(piece=found, by=request.user)
        messages.success(request, "It is learnt from no longer.")
        return redirect(back)
    context = {
        "heading": "Learn from this piece no longer?",
        "text": "What was counted at its steps goes, and your answers about it. Its run and result stay.",
        "action_url": request.path,
        "action": "Take it out",
        "cancel_url": back,
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)
