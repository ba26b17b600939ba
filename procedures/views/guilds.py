"""Guilds: found, looked at, described, and what stands on their shelf."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from calculators.wording import UNIT_SYSTEMS
from procedures import actions, markdown
from procedures.access import (
    MemberRequest,
    anyone,
    guild_keeper,
    guild_member,
    guild_reader,
    membership_in,
    procedure_manager,
    signed_in,
)
from procedures.actions import Refused
from procedures.engine.scale import FIRES
from procedures.forms.guild import FoundForm, ProfileForm, ShelfForm, ToolNameForm, things
from procedures.limits import limited
from procedures.models import Guild, Procedure
from procedures.queries import guilds as guild_queries
from procedures.queries import keeping

from .follows import follow_of

HTML = "procedures/guilds/"
ON_A_PAGE = 30
ON_THE_SHELF = 24


@anyone
@require_safe
def guilds(request: HttpRequest) -> HttpResponse:
    """Anyone: the guilds one is in, and those that may be found."""
    page = Paginator(guild_queries.listed_guilds(request.user), ON_A_PAGE).get_page(request.GET.get("page"))
    context = {"own": guild_queries.own_guilds(request.user), "page": page}
    return render(request, HTML + "list.html", context)


@signed_in
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def found_guild(request: MemberRequest) -> HttpResponse:
    """Anyone signed in: found a guild, and keep it."""
    form = FoundForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            return redirect(actions.found_guild(name=form.cleaned_data["name"], by=request.user))
        except Refused as refusal:
            form.add_error(None, str(refusal))
    return render(request, HTML + "found.html", {"form": form}, status=422 if form.is_bound else 200)


@guild_reader
@require_safe
def guild(request: HttpRequest, guild: Guild) -> HttpResponse:
    """Who may see it: what the guild says of itself, and what of its procedures one may read."""
    return _page(request, guild)


def _page(request: HttpRequest, guild: Guild, shelf_form: ShelfForm | None = None) -> HttpResponse:
    membership = membership_in(request.user, guild)
    found = guild_queries.procedures_of(guild, request.user)
    members = guild_queries.members_of(guild)
    context: dict[str, Any] = {
        "guild": guild,
        "about": markdown.render(guild.about),
        "membership": membership,
        "members": members if membership else members.filter(role="keeper"),
        "how_many": guild.memberships.count(),
        "page": Paginator(found, ON_THE_SHELF).get_page(request.GET.get("page")),
        "units": UNIT_SYSTEMS.get(guild.units),
        "fire": FIRES[guild.fire].title if guild.fire in FIRES else "",
        "names": guild_queries.named_things(guild, things()),
        "follow": follow_of(request.user, guild),
        "collections": keeping.collections_of_guild(guild, request.user)[:ON_A_PAGE],
    }
    if membership:
        context["shelf_form"] = shelf_form or ShelfForm(guild_queries.own_for_shelf(request.user))
        context["waiting"] = guild_queries.waiting_requests(guild).count() if membership.keeps else 0
    status = 422 if shelf_form else 200
    return render(request, HTML + "page.html", context, status=status)


@guild_keeper
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def guild_profile(request: MemberRequest, guild: Guild) -> HttpResponse:
    """Its keepers: what the guild says of itself, and who sees it."""
    form = ProfileForm(guild, request.POST if request.method == "POST" else None)
    if form.is_valid():
        actions.edit_guild(guild=guild, profile=form.cleaned_data, by=request.user)
        messages.success(request, "Kept.")
        return redirect(guild)
    return _profile(request, guild, form=form, status=422 if form.is_bound else 200)


@guild_keeper
@limited("create")
@require_POST
def guild_tools(request: MemberRequest, guild: Guild) -> HttpResponse:
    """Its keepers: say what the guild calls a tool or an operation."""
    form = ToolNameForm(request.POST)
    if form.is_valid():
        try:
            actions.name_tool(guild=guild, by=request.user, **form.cleaned_data)
            return redirect("procedures:guild_profile", guild.slug)
        except Refused as refusal:
            form.add_error("name", str(refusal))
    return _profile(request, guild, tool_form=form, status=422)


def _profile(request: MemberRequest, guild: Guild, status: int, **forms: Any) -> HttpResponse:
    context = {
        "guild": guild,
        "form": forms.get("form") or ProfileForm(guild),
        "tool_form": forms.get("tool_form") or ToolNameForm(),
        "names": guild_queries.named_things(guild, things()),
    }
    return render(request, HTML + "profile.html", context, status=status)


@guild_member
@limited("create")
@require_POST
def put_on_shelf(request: MemberRequest, guild: Guild) -> HttpResponse:
    """Its members: put a procedure of one's own on the shelf."""
    form = ShelfForm(guild_queries.own_for_shelf(request.user), request.POST)
    if form.is_valid():
        try:
            actions.put_on_shelf(procedure=form.cleaned_data["procedure"], guild=guild, by=request.user)
            messages.success(
                request, "It stands on the shelf: the guild’s editors work at its draft with you."
            )
            return redirect(guild)
        except Refused as refusal:
            form.add_error("procedure", str(refusal))
    return _page(request, guild, form)


@procedure_manager
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def take_off_shelf(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Its owner and its guild's keepers: take a procedure off the shelf, after being asked once."""
    where = procedure.guild
    if request.method == "POST":
        actions.take_off_shelf(procedure=procedure, by=request.user)
        messages.success(request, f"“{procedure.title}” is off the shelf.")
        return redirect(where or "procedures:guilds")
    context = {
        "heading": f"Take “{procedure.title}” off the shelf?",
        "text": f"Only {procedure.owner.get_username()} works at its draft then. Its readers stay the same.",
        "action": "Take it off",
        "action_url": request.path,
        "cancel_url": where.get_absolute_url() if where else procedure.get_absolute_url(),
    }
    return render(request, "components/confirm_page.html", context)


@guild_keeper
@limited("create")
@require_http_methods(["GET", "HEAD", "POST"])
def delete_guild(request: MemberRequest, guild: Guild) -> HttpResponse:
    """Its keepers: dissolve the guild, after being asked once."""
    if request.method == "POST":
        actions.delete_guild(guild=guild, by=request.user)
        messages.success(request, f"The guild {guild.name} is dissolved.")
        return redirect("procedures:guilds")
    context = {
        "heading": f"Dissolve the guild {guild.name}?",
        "text": "This cannot be undone. Procedures stay with their owners, who alone read then what only the"
        " guild read.",
        "losses": [
            "its page and its names for tools",
            "who is in it",
            "its shelf, but not what stands on it",
        ],
        "action": "Dissolve it for good",
        "action_url": request.path,
        "cancel_url": guild.get_absolute_url(),
        "danger": True,
    }
    return render(request, "components/confirm_page.html", context)
