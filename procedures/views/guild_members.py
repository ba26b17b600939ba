"""Who is in a guild: invited, asking, with what role, and going."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures import actions
from procedures.access import (
    MOST_DIGITS,
    MemberRequest,
    guild_keeper,
    guild_member,
    guild_reader,
    membership_in,
    sign_in_first,
    signed_in,
)
from procedures.actions import Refused
from procedures.forms.guild import ROLE_WORDS, AskForm, InviteForm, LeaveForm, RoleForm
from procedures.limits import limited
from procedures.middleware import COOKIE, ReaderRequest
from procedures.models import Guild, Membership
from procedures.queries import guilds as guild_queries

from .units import YEAR

HTML = "procedures/guilds/"
LINK = "guild_link"  # in the session: the link that was just made, shown once


@guild_member
@require_safe
def guild_members(request: MemberRequest, guild: Guild) -> HttpResponse:
    """Its members: who is in it; its keepers: who is invited and who asks, too."""
    return _page(request, guild)


def _page(request: MemberRequest, guild: Guild, invite_form: InviteForm | None = None) -> HttpResponse:
    membership = membership_in(request.user, guild)
    context: dict[str, Any] = {
        "guild": guild,
        "membership": membership,
        "members": guild_queries.members_of(guild),
        "roles": Membership.Role.choices,
        "role_words": [words for _, words in ROLE_WORDS.items()],
    }
    if membership and membership.keeps:
        context |= {
            "invite_form": invite_form or InviteForm(),
            "invitations": guild_queries.waiting_invitations(guild),
            "requests": guild_queries.waiting_requests(guild),
            "link": request.session.pop(LINK, ""),
        }
    return render(request, HTML + "members.html", context, status=422 if invite_form else 200)


@guild_keeper
@limited("invite")
@require_POST
def invite(request: MemberRequest, guild: Guild) -> HttpResponse:
    """Its keepers: make a link that lets one person in, once."""
    form = InviteForm(request.POST)
    if form.is_valid():

        def link_of(token: str) -> str:
            return request.build_absolute_uri(reverse("procedures:invitation", args=[token]))

        try:
            request.session[LINK] = actions.invite(
                guild=guild, link_of=link_of, by=request.user, **form.cleaned_data
            )
            return redirect("procedures:guild_members", guild.slug)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    return _page(request, guild, form)


@guild_keeper
@limited("create")
@require_POST
def take_invitation_back(request: MemberRequest, guild: Guild, invitation: int) -> HttpResponse:
    """Its keepers: let an invitation lead nowhere."""
    if invitation < 10**MOST_DIGITS:
        actions.take_invitation_back(guild=guild, invitation=invitation, by=request.user)
    return redirect("procedures:guild_members", guild.slug)


@guild_keeper
@limited("create")
@require_POST
def answer_request(request: MemberRequest, guild: Guild, number: int) -> HttpResponse:
    """Its keepers: let somebody in who asks, or not."""
    found = guild.requests.filter(pk=number).first() if number < 10**MOST_DIGITS else None
    if found is None:
        raise Http404("Nobody asks by this number.")
    try:
        actions.answer_request(request=found, let_in="let_in" in request.POST, by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("procedures:guild_members", guild.slug)


@guild_keeper
@limited("create")
@require_POST
def change_member(request: MemberRequest, guild: Guild, number: int) -> HttpResponse:
    """Its keepers: say what a member may do, or send them away."""
    found = guild.memberships.filter(pk=number).first() if number < 10**MOST_DIGITS else None
    if found is None:
        raise Http404("Nobody is in the guild by this number.")
    form = RoleForm(request.POST)
    try:
        if "remove" in request.POST:
            actions.remove_member(membership=found, by=request.user)
            messages.success(request, "They are no longer in the guild.")
        elif form.is_valid():
            actions.set_role(membership=found, role=form.cleaned_data["role"], by=request.user)
        else:
            messages.error(request, "Choose one of the roles.")
    except Refused as refusal:
        messages.error(request, str(refusal))
    still_in = Membership.objects.filter(guild=guild, user=request.user, role=Membership.Role.KEEPER).exists()
    return redirect("procedures:guild_members", guild.slug) if still_in else redirect(guild)


@signed_in
@limited("join")
@require_http_methods(["GET", "HEAD", "POST"])
def invitation(request: MemberRequest, token: str) -> HttpResponse:
    """Who has its link and is signed in: come into the guild, once; used, over or taken back, it says so."""
    found = actions.invitation_of(token)
    if found is None:
        raise Http404("There is no such invitation.")
    context = {"invitation": found, "guild": found.guild}
    if membership_in(request.user, found.guild):
        return redirect(found.guild)
    try:
        if request.method == "POST":
            actions.accept_invitation(token=token, by=request.user)
            return _welcome(request, found.guild)
        actions.check_invitation(found)
    except Refused as refusal:
        return render(request, HTML + "invitation.html", {**context, "refusal": str(refusal)}, status=410)
    return render(request, HTML + "invitation.html", context)


def _welcome(request: HttpRequest, guild: Guild) -> HttpResponse:
    """Lead to the guild; who chose no units reads in the guild's from now on."""
    messages.success(request, f"You are in the guild {guild.name}.")
    response = redirect(guild)
    if guild.units in UNIT_SYSTEMS and COOKIE not in request.COOKIES:
        response.set_cookie(COOKIE, guild.units, max_age=YEAR, samesite="Lax", secure=request.is_secure())
    return response


@guild_reader
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def ask_to_join(request: ReaderRequest, guild: Guild) -> HttpResponse:
    """Who sees its page and is signed in: ask to be let in."""
    if not request.user.is_authenticated:
        return sign_in_first(request)
    form = AskForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            actions.ask_to_join(guild=guild, words=form.cleaned_data["words"], by=request.user)
            messages.success(request, "Asked. A keeper answers; until then everything stays as it is.")
            return redirect(guild)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    context = {"guild": guild, "form": form}
    return render(request, HTML + "ask.html", context, status=422 if form.is_bound else 200)


@guild_member
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def leave_guild(request: MemberRequest, guild: Guild) -> HttpResponse:
    """Its members: leave it, after being asked once; the last keeper says who keeps it then."""
    membership = membership_in(request.user, guild)
    assert membership is not None
    others = guild_queries.members_of(guild).exclude(pk=membership.pk)
    needed = membership.keeps and others.exists() and not others.filter(role=Membership.Role.KEEPER).exists()
    form = LeaveForm(others, request.POST if request.method == "POST" else None) if needed else None
    error = ""
    if request.method == "POST" and (form is None or form.is_valid()):
        successor = form.cleaned_data["successor"].pk if form else None
        try:
            actions.leave_guild(membership=membership, successor=successor, by=request.user)
            messages.success(request, f"You have left the guild {guild.name}.")
            return redirect("procedures:guilds")
        except Refused as refusal:
            error = str(refusal)
    on_shelf = guild.procedures.filter(on_shelf=True, owner=request.user).count()
    context = {
        "guild": guild,
        "form": form,
        "error": error,
        "on_shelf": on_shelf,
        "last": not others.exists(),
    }
    status = 422 if error or (form and form.errors) else 200
    return render(request, HTML + "leave.html", context, status=status)
