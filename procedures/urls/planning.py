"""Addresses of planning the work: heats, blows and minutes."""

from django.urls import path

from procedures.views.cost import cost, cost_csv, cost_print
from procedures.views.heat_plan import heats

patterns = [
    path("p/<slug:slug>/heats/", heats, name="heats"),
    path("p/<slug:slug>/cost/", cost, name="cost"),
    path("p/<slug:slug>/cost/cost.pdf", cost_print, name="cost_print"),
    path("p/<slug:slug>/cost/cost.csv", cost_csv, name="cost_csv"),
]
