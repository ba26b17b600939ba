"""Bars from the side: one, and one that becomes another."""

from __future__ import annotations

from math import sqrt

from calculators.figure import Figure, Size, Stroke
from calculators.sections import Section
from calculators.wording import say

from .arcs import box

_LONGEST = 14  # thicknesses: longer bars are drawn shortened, and their sizes still say what they are


def bar(area: float, length: float) -> Figure:
    """Return a bar of an area and a length."""
    thick = sqrt(area)
    shown = min(length, _LONGEST * thick)
    size = Size((0, 0), (shown, 0), say("{length:length}", length=length), -0.09)
    return Figure("The bar from the side.", (Stroke("metal", box(0, 0, shown, thick), True),), (size,))


def two_bars(before: Section, length: float, after: Section, becomes: float) -> Figure:
    """Return two bars of the same metal, one over the other."""
    return _pair(before.thickness, length, after.thickness, becomes)


def worked_bar(area_before: float, length: float, area_after: float, becomes: float) -> Figure:
    """Return a run of bar before and after its section is changed."""
    return _pair(sqrt(area_before), length, sqrt(area_after), becomes)


def _pair(first: float, length: float, second: float, becomes: float) -> Figure:
    thick = max(first, second)
    times = min(1.0, _LONGEST * thick / max(length, becomes))
    long, other = length * times, becomes * times
    base = -1.2 * thick - 0.28 * max(long, other)
    return Figure(
        "The bar before, and under it what it becomes, both from the side.",
        (
            Stroke("metal", box(0, 0, long, first), True),
            Stroke("metal", box(0, base, other, base + second), True),
        ),
        (
            Size((0, 0), (long, 0), say("{length:length}", length=length), -0.08),
            Size((0, base), (other, base), say("{length:length}", length=becomes), -0.08),
        ),
    )


def flattened(thickness: float, width: float, target: float, becomes: float) -> Figure:
    """Return a section before and after it is flattened, seen along the bar."""
    return Figure(
        "The section before, dashed, and after, seen along the bar.",
        (
            Stroke("metal", box(-becomes / 2, 0, becomes / 2, target), True),
            Stroke("dashed", box(-width / 2, 0, width / 2, thickness), True),
        ),
        (
            Size((-becomes / 2, 0), (becomes / 2, 0), say("{width:size}", width=becomes), -0.1),
            Size((becomes / 2, 0), (becomes / 2, target), say("{thickness:size}", thickness=target), -0.08),
        ),
    )
