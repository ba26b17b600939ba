"""The moderators' pages: what waits, one thing with all about it, and their log."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.contrib.auth.models import User
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from procedures import actions
from procedures.access import MemberRequest, moderator
from procedures.actions import Refused
from procedures.forms.care import BlockForm, HideForm, WarnForm, WhyForm
from procedures.limits import limited
from procedures.models import WritingBlock
from procedures.models.care import Kind
from procedures.queries import care
from procedures.queries.care import Thing
from procedures.standing import blocks_now, may_moderate

HTML = "procedures/care/"
ON_A_PAGE = 30


@moderator
@require_safe
def moderation(request: MemberRequest) -> HttpResponse:
    """Moderators: what is reported and waits, and who may not write."""
    page = Paginator(care.waiting(), ON_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "rows": [
            row | {"reason": care.RANKED[row["rank"]], "named": Kind(row["kind"]).label} for row in page
        ],
        "blocks": blocks_now()[:ON_A_PAGE],
        "waiting_blocks": WritingBlock.objects.filter(waits=True, lifted=None).select_related("user", "by"),
    }
    return render(request, HTML + "queue.html", context)


@moderator
@require_safe
def moderation_log(request: MemberRequest) -> HttpResponse:
    """Moderators: all that was done, the newest first."""
    page = Paginator(care.log(), ON_A_PAGE).get_page(request.GET.get("page"))
    return render(request, HTML + "log.html", {"page": page})


@moderator
@limited("moderate")
@require_http_methods(["GET", "HEAD", "POST"])
def moderated(request: MemberRequest, kind: str, item: int) -> HttpResponse:
    """Moderators: a thing with its reports and what was done about it, and what can be done."""
    thing = care.thing_of(kind, item) if item < 10**18 else None
    if thing is None:
        return _gone(request, kind, item)
    person = _person(request, thing)
    forms: dict[str, Any] = {
        "dismiss": WhyForm(prefix="dismiss"),
        "hide": HideForm(prefix="hide"),
        "unhide": WhyForm(prefix="unhide"),
        "warn": WarnForm(prefix="warn"),
        "block": BlockForm(prefix="block"),
        "lift": WhyForm(prefix="lift"),
    }
    if request.method == "POST":
        name = request.POST.get("do", "")
        try:
            done = _do(request, name, thing, person, forms)
        except Refused as refusal:
            messages.error(request, str(refusal))
            done = True
        if done:
            return redirect("procedures:moderated", kind, item)
    context = {
        "thing": thing,
        "forms": forms,
        "person": person,
        "is_about_me": request.user in thing.people or request.user == person,
        "is_moderator": person is not None and may_moderate(person),
        "blocks": care.blocks_of(person) if person else (),
        "reports": care.reports_of(kind, item)[:ON_A_PAGE],
        "acts": care.log(kind, item)[:ON_A_PAGE],
    }
    status = 422 if request.method == "POST" else 200
    return render(request, HTML + "thing.html", context, status=status)


def _person(request: MemberRequest, thing: Thing) -> User | None:
    """Return who is warned or blocked: whose thing it is, or of several the one that was chosen."""
    chosen = request.POST.get("person", "")
    several = (one for one in thing.people if str(one.pk) == chosen)
    return thing.about or next(several, None)


def _do(request: MemberRequest, name: str, thing: Thing, person: User | None, forms: dict[str, Any]) -> bool:
    """Do what a button asks for; False where its form lacks something. Raises Refused."""
    if name == "confirm":
        actions.confirm_block(block=_block(request, person), by=request.user)
        return _said(request, "The block holds now.")
    if name not in forms:
        raise Refused("There is no such thing to do.")
    form = forms[name] = type(forms[name])(request.POST, prefix=name)
    if not form.is_valid():
        return False
    _DEEDS[name](request, thing, person, form)
    return True


def _dismiss(request: MemberRequest, thing: Thing, person: User | None, form: Any) -> None:
    actions.dismiss_reports(thing=thing, why=form.cleaned_data["why"], by=request.user)
    _said(request, "Left as it is; what was reported is closed.")


def _hide(request: MemberRequest, thing: Thing, person: User | None, form: Any) -> None:
    actions.hide(thing=thing, reason=form.cleaned_data["why"], by=request.user)
    _said(request, "Hidden. Its author sees it, and why.")


def _unhide(request: MemberRequest, thing: Thing, person: User | None, form: Any) -> None:
    actions.unhide(thing=thing, why=form.cleaned_data["why"], by=request.user)
    _said(request, "Shown again.")


def _warn(request: MemberRequest, thing: Thing, person: User | None, form: Any) -> None:
    actions.warn(person=_known(person), words=form.cleaned_data["words"], thing=thing, by=request.user)
    _said(request, "Warned.")


def _block_writing(request: MemberRequest, thing: Thing, person: User | None, form: Any) -> None:
    made = actions.block_writing(
        person=_known(person),
        days=form.length,
        why=form.cleaned_data["why"],
        thing=thing,
        by=request.user,
    )
    _said(request, "It waits for a second moderator’s word." if made.waits else "Blocked from writing.")


def _lift(request: MemberRequest, thing: Thing, person: User | None, form: Any) -> None:
    actions.lift_block(block=_block(request, person), why=form.cleaned_data["why"], by=request.user)
    _said(request, "Lifted.")


_DEEDS: dict[str, Callable[[MemberRequest, Thing, User | None, Any], None]] = {
    "dismiss": _dismiss,
    "hide": _hide,
    "unhide": _unhide,
    "warn": _warn,
    "block": _block_writing,
    "lift": _lift,
}


def _known(person: User | None) -> User:
    if person is None:
        raise Refused("Say who is meant: nobody’s name stands with it any more, or several do.")
    return person


def _block(request: MemberRequest, person: User | None) -> WritingBlock:
    asked = request.POST.get("which", "")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 18 else 0
    found = WritingBlock.objects.filter(pk=number, user=_known(person), lifted=None).first()
    if found is None:
        raise Refused("This block was lifted already.")
    return found


def _said(request: MemberRequest, words: str) -> bool:
    messages.success(request, words)
    return True


def _gone(request: MemberRequest, kind: str, item: int) -> HttpResponse:
    """Show what was reported of a thing that is gone, and close it."""
    reports = care.reports_of(kind, item) if item < 10**18 else None
    if not reports:
        raise Http404("Nothing of this name was ever reported.")
    if request.method == "POST":
        try:
            actions.close_gone(kind=kind, item=item, by=request.user)
            messages.success(request, "Closed.")
        except Refused as refusal:
            messages.error(request, str(refusal))
        return redirect("procedures:moderation")
    context = {"reports": reports[:ON_A_PAGE], "acts": care.log(kind, item)[:ON_A_PAGE]}
    return render(request, HTML + "gone.html", context)
