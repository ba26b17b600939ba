"""Scrolls, coils, wraps and twists."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sin

from calculators.figure import Figure, Size, Spot, Stroke
from calculators.wording import say

from .arcs import box, spiral

_MOST_TURNS = 40  # drawn; more would be a grey disc


def scroll(radius: Callable[[float], float], turns: float) -> Figure:
    """Return a scroll whose radius follows from the share of its turns, 0 within to 1 without."""
    shown = min(turns, _MOST_TURNS)
    line = spiral((0, 0), radius, 0.0, -2 * pi * shown, max(48, int(36 * shown)))
    return Figure(
        "The middle of the bar along the scroll.",
        (Stroke("outline", line),),
        (
            Size((0, 0), line[0], say("{size:size}", size=radius(0.0))),
            Size((0, 0), line[-1], say("{size:size}", size=radius(1.0))),
        ),
    )


def coil(middle: float, thickness: float, turns: float, pitch: float) -> Figure:
    """Return a coil from its side, its axis lying along."""
    shown = min(turns, 12.0)
    parts = int(24 * shown) + 1

    def wave(half: int) -> tuple[Spot, ...]:
        found = []
        for part in range(parts + 1):
            turn = shown * part / parts
            found.append((turn * pitch + half, middle / 2 * sin(2 * pi * turn)))
        return tuple(found)

    line = wave(0)
    half = thickness / 2
    long = shown * pitch
    return Figure(
        "The coil from its side.",
        (
            Stroke(
                "metal",
                tuple((x - half, y) for x, y in line) + tuple((x + half, y) for x, y in line[::-1]),
                True,
            ),
            Stroke("dashed", ((-pitch / 2, 0), (long + pitch / 2, 0))),
        ),
        (
            Size(
                (pitch / 4, -middle / 2), (pitch * 5 / 4, -middle / 2), say("{size:size}", size=pitch), -0.09
            ),
            Size(
                (long + pitch / 2, -middle / 2),
                (long + pitch / 2, middle / 2),
                say("{size:size}", size=middle),
                -0.06,
            ),
        )
        if shown >= 2
        else (),
    )


def twist(radius: float, length: float, turns: float) -> Figure:
    """Return a twisted run from the side, its corners winding along it."""
    shown = min(turns, 12.0)
    parts = int(24 * shown) + 12
    edges = []
    for quarter in range(4):
        line = tuple(
            (length * part / parts, radius * sin(2 * pi * shown * part / parts + quarter * pi / 2))
            for part in range(parts + 1)
        )
        edges.append(Stroke("thin", line))
    return Figure(
        "The twisted run from the side; the lines are its corners.",
        (Stroke("metal", box(0, -radius, length, radius), True), *edges),
        (Size((0, -radius), (length, -radius), say("{size:length}", size=length), -0.09),),
    )
