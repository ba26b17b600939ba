"""Addresses of finding procedures."""

from django.urls import path

from procedures.views.finding import (
    forget_search,
    keep_search,
    narrow,
    open_search,
    procedure_list,
    searches,
)

patterns = [
    path("procedures/", procedure_list, name="list"),
    path("procedures/narrow/", narrow, name="narrow"),
    path("searches/", searches, name="searches"),
    path("searches/keep/", keep_search, name="keep_search"),
    path("searches/<int:search>/", open_search, name="search"),
    path("searches/<int:search>/forget/", forget_search, name="forget_search"),
]
