"""Rings, eyes and links."""

from __future__ import annotations

from math import acos, pi

from calculators.figure import Figure, Size, Stroke
from calculators.wording import say

from .arcs import arc, box, circle


def ring(inside: float, thickness: float) -> Figure:
    """Return a ring flat on the bench, its middle line dashed."""
    radius = inside / 2
    return Figure(
        "The ring flat on the bench; dashed, the middle of the bar, which is what is measured.",
        (
            *_hollow(circle((0, 0), radius + thickness), circle((0, 0), radius)),
            Stroke("dashed", circle((0, 0), radius + thickness / 2), True),
        ),
        (
            Size((-radius, 0), (radius, 0), say("{size:length}", size=inside)),
            Size((radius, 0), (radius + thickness, 0), say("{size:size}", size=thickness), -0.62),
        ),
    )


def eye(inside: float, thickness: float) -> Figure:
    """Return an eye at the end of its bar."""
    radius, outside = inside / 2, inside / 2 + thickness
    reach = 3 * outside
    shank = box(-reach, -thickness / 2, -radius * 0.99, thickness / 2)
    start = acos(max(-1.0, -1 + (thickness / 2 / outside) ** 2 / 2))
    outer = arc((0, 0), outside, start, start - 2 * pi + 2 * (pi - start), 64)
    return Figure(
        "The eye at the end of its bar; dashed, the middle of the bar round it.",
        (
            Stroke("metal", shank, True),
            *_hollow(outer, circle((0, 0), radius)),
            Stroke("dashed", circle((0, 0), radius + thickness / 2), True),
        ),
        (
            Size((-radius, 0), (radius, 0), say("{size:length}", size=inside)),
            Size((-reach, -thickness / 2), (-reach, thickness / 2), say("{size:size}", size=thickness), 0.06),
        ),
    )


def link(length: float, width: float, thickness: float) -> Figure:
    """Return a link of chain, lying along."""
    half, radius, low = (length - width) / 2, width / 2, width / 2 + thickness

    def oval(grown: float) -> tuple[tuple[float, float], ...]:
        right = arc((half, 0), radius + grown, -pi / 2, pi / 2)
        return right + arc((-half, 0), radius + grown, pi / 2, 3 * pi / 2)

    return Figure(
        "The link flat on the bench; dashed, the middle of the bar.",
        (*_hollow(oval(thickness), oval(0)), Stroke("dashed", oval(thickness / 2), True)),
        (
            Size((-length / 2, -low), (length / 2, -low), say("{size:length}", size=length), -0.08),
            Size((0, -radius), (0, radius), say("{size:length}", size=width)),
        ),
    )


def _hollow(
    outside: tuple[tuple[float, float], ...], inside: tuple[tuple[float, float], ...]
) -> tuple[Stroke, ...]:
    return Stroke("metal", outside, True), Stroke("hole", inside, True)
