"""Addresses of open data in and out, and of a person's own."""

from django.urls import path

from procedures.views.account import delete_account, export_account
from procedures.views.exchange import guild_package, own_package, package, take_in, taken_in

patterns = [
    path("new/document/", take_in, name="take_in"),
    path("new/document/taken-in/", taken_in, name="taken_in"),
    path("p/<slug:slug>/procedure.zip", package, name="package"),
    path("guilds/<slug:guild>/shelf.zip", guild_package, name="guild_package"),
    path("account/procedures.zip", own_package, name="own_package"),
    path("account/export/", export_account, name="export_account"),
    path("account/delete/", delete_account, name="delete_account"),
]
