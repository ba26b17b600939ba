"""Addresses of guilds."""

from django.urls import path

from procedures.views.guild_members import (
    answer_request,
    ask_to_join,
    change_member,
    guild_members,
    invitation,
    invite,
    leave_guild,
    take_invitation_back,
)
from procedures.views.guilds import (
    delete_guild,
    found_guild,
    guild,
    guild_profile,
    guild_tools,
    guilds,
    put_on_shelf,
    take_off_shelf,
)

patterns = [
    path("guilds/", guilds, name="guilds"),
    path("found-a-guild/", found_guild, name="found_guild"),
    path("guilds/<slug:guild>/", guild, name="guild"),
    path("guilds/<slug:guild>/profile/", guild_profile, name="guild_profile"),
    path("guilds/<slug:guild>/tools/", guild_tools, name="guild_tools"),
    path("guilds/<slug:guild>/shelf/", put_on_shelf, name="put_on_shelf"),
    path("guilds/<slug:guild>/delete/", delete_guild, name="delete_guild"),
    path("guilds/<slug:guild>/members/", guild_members, name="guild_members"),
    path("guilds/<slug:guild>/members/<int:number>/", change_member, name="change_member"),
    path("guilds/<slug:guild>/invite/", invite, name="invite"),
    path(
        "guilds/<slug:guild>/invitations/<int:invitation>/", take_invitation_back, name="take_invitation_back"
    ),
    path("guilds/<slug:guild>/requests/<int:number>/", answer_request, name="answer_request"),
    path("guilds/<slug:guild>/ask/", ask_to_join, name="ask_to_join"),
    path("guilds/<slug:guild>/leave/", leave_guild, name="leave_guild"),
    path("invitations/<str:token>/", invitation, name="invitation"),
    path("p/<slug:slug>/off-the-shelf/", take_off_shelf, name="take_off_shelf"),
]
