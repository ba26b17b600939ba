"""Addresses of planning the work: heats, blows and minutes."""

from django.urls import path

from procedures.views.heat_plan import heats

patterns = [
    path("p/<slug:slug>/heats/", heats, name="heats"),
]
