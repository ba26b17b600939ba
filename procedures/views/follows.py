"""Following a procedure, a person or a guild, and what one follows."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.models import AbstractBaseUser, AnonymousUser, User
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST, require_safe

from procedures import actions
from procedures.access import (
    MOST_DIGITS,
    MemberRequest,
    followable,
    may_manage,
    membership_in,
    open_to_blocked,
    signed_in,
)
from procedures.actions import Refused
from procedures.limits import limited
from procedures.models import Guild, Procedure
from procedures.queries import keeping

ON_A_PAGE = 50
MOST_NEW = 30


@dataclass(frozen=True)
class FollowState:
    """Whether a reader follows a thing; to whose it is, only by how many it is followed."""

    kind: str
    key: str
    name: str
    on: bool = False
    is_own: bool = False
    count: int = 0


def follow_of(user: AbstractBaseUser | AnonymousUser, thing: Procedure | Guild | User) -> FollowState | None:
    """Return how a user stands to what may be followed, in one query; None for who is not signed in."""
    if not user.is_authenticated:
        return None
    if isinstance(thing, Procedure):
        kind, key, name, own = "procedure", thing.slug, "this procedure", may_manage(user, thing)
    elif isinstance(thing, Guild):
        found = membership_in(user, thing)
        kind, key, name, own = "guild", thing.slug, thing.name, found is not None and found.keeps
    else:
        kind, key, name, own = "person", thing.get_username(), thing.get_username(), thing.pk == user.pk
    if own:
        return FollowState(kind, key, name, is_own=True, count=keeping.followers_of(thing).count())
    return FollowState(kind, key, name, on=keeping.is_followed(user, thing))


@signed_in
@open_to_blocked
@limited("follow")
@require_POST
def follow_thing(request: MemberRequest, kind: str, key: str) -> HttpResponse:
    """Signed in: follow what one may see, or no longer with `off`; then back to where one was."""
    thing = followable(request.user, kind, key)
    if request.POST.get("off"):
        actions.unfollow(thing=thing, by=request.user)
        messages.success(request, "You follow it no longer.")
    else:
        try:
            actions.follow(thing=thing, by=request.user)
            messages.success(request, "What is published of it from now on stands under Following.")
        except Refused as refusal:
            messages.error(request, str(refusal))
    back = request.POST.get("next", "")
    allowed = url_has_allowed_host_and_scheme(back, {request.get_host()}, require_https=request.is_secure())
    return redirect(back if allowed else "procedures:following")


@signed_in
@require_safe
def following(request: MemberRequest) -> HttpResponse:
    """Signed in: what one follows, and what of it is new."""
    page = Paginator(keeping.follows_of(request.user), ON_A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "new": keeping.new_for(request.user)[:MOST_NEW]}
    return render(request, "procedures/keeping/following.html", context)


@signed_in
@open_to_blocked
@limited("follow")
@require_POST
def drop_follow(request: MemberRequest, follow: int) -> HttpResponse:
    """Signed in: follow one thing no longer."""
    if follow < 10**MOST_DIGITS:
        actions.drop_follow(follow=follow, by=request.user)
    return redirect("procedures:following")
