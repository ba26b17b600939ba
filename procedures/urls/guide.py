"""Addresses of the operation guide and the calculators."""

from django.urls import path

from procedures.views.bench_card import bench_card
from procedures.views.calculators import calculator, calculators
from procedures.views.guide import operation, operations
from procedures.views.rules import rules

patterns = [
    path("operations/", operations, name="operations"),
    path("rules/", rules, name="rules"),
    path("operations/<slug:operation>/", operation, name="operation"),
    path("calculators/", calculators, name="calculators"),
    path("bench-card.pdf", bench_card, name="bench_card"),
    path("calculators/<slug:calculator>/", calculator, name="calculator"),
]
