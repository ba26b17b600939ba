"""Addresses of working back from the finished piece."""

from django.urls import path

from procedures.views.cutting import cutting_list, cutting_list_csv
from procedures.views.drafting import from_a_drawing, make_draft
from procedures.views.reading import document_schema
from procedures.views.stock import apply_stock, stock, stock_strip

patterns = [
    path("new/from-a-drawing/", from_a_drawing, name="from_a_drawing"),
    path("new/from-a-drawing/make/", make_draft, name="make_draft"),
    path("p/<slug:slug>/stock/", stock, name="stock"),
    path("p/<slug:slug>/stock/strip.pdf", stock_strip, name="stock_strip"),
    path("p/<slug:slug>/stock/apply/", apply_stock, name="apply_stock"),
    path("p/<slug:slug>/cutting-list/", cutting_list, name="cutting_list"),
    path("p/<slug:slug>/cutting-list/cutting-list.csv", cutting_list_csv, name="cutting_list_csv"),
    path("schema/procedure-1.json", document_schema, name="schema"),
]
