"""Holes, slits and hollows."""

from __future__ import annotations

from math import acos, asin, pi

from calculators.figure import Figure, Size, Stroke
from calculators.wording import say

from .arcs import arc, box, circle


def hole(long: float, across: float, bar_width: float, round_hole: bool, slit: float) -> Figure:
    """Return a hole in the flat of a bar, and dashed the slit that it was opened from."""
    reach = max(long, slit)
    opened = circle((0, 0), long / 2) if round_hole else box(-long / 2, -across / 2, long / 2, across / 2)
    wide = bar_width / 2
    return Figure(
        "The bar from above with its hole; dashed, the slit that is cut.",
        (
            Stroke("metal", box(-reach, -wide, reach, wide), True),
            Stroke("hole", opened, True),
            Stroke("dashed", ((-slit / 2, 0), (slit / 2, 0))),
        ),
        (
            Size((-slit / 2, -wide), (slit / 2, -wide), say("{size:length}", size=slit), -0.09),
            Size((-reach, -wide), (-reach, wide), say("{size:size}", size=bar_width), 0.06),
        ),
    )


def drifted(before: float, wall: float, after: float, becomes: float) -> Figure:
    """Return a hole before, dashed, and after it is drifted, with its walls."""
    outer = after / 2 + becomes
    return Figure(
        "The hole and its walls after drifting; dashed, before.",
        (
            Stroke("metal", circle((0, 0), outer), True),
            Stroke("hole", circle((0, 0), after / 2), True),
            Stroke("dashed", circle((0, 0), before / 2), True),
            Stroke("dashed", circle((0, 0), before / 2 + wall), True),
        ),
        (
            Size((-after / 2, 0), (after / 2, 0), say("{size:size}", size=after)),
            Size((after / 2, 0), (outer, 0), say("{size:size}", size=becomes), -0.6),
        ),
    )


def groove(radius: float, depth: float, thickness: float, sides: int) -> Figure:
    """Return a bar with a fullered groove in one side or both."""
    reach = 2.5 * thickness
    half = acos(max(-1.0, 1 - depth / radius))
    top = arc((0, thickness + radius - depth), radius, -pi / 2 - half, -pi / 2 + half, 24)
    low = arc((0, depth - radius), radius, pi / 2 - half, pi / 2 + half, 24)
    bottom = low if sides == 2 else ()
    right = ((reach, thickness), (reach, 0.0))
    spots = ((-reach, 0.0), (-reach, thickness), *top, *right, *bottom)
    return Figure(
        "The bar from the side with its groove.",
        (Stroke("metal", spots, True),),
        (Size((-reach, 0), (-reach, thickness), say("{size:size}", size=thickness), 0.06),),
    )


def dish(blank: float, depth: float, rim: float) -> Figure:
    """Return a dished blank cut through its middle, and dashed the flat blank."""
    half = rim / 2
    radius = (half * half + depth * depth) / (2 * depth)
    turn = asin(min(1.0, half / radius))
    if depth > radius:
        turn = pi - turn
    bowl = arc((0, radius - depth), radius, -pi / 2 - turn, -pi / 2 + turn)
    return Figure(
        "The dish cut through its middle; dashed, the flat blank.",
        (Stroke("outline", bowl), Stroke("dashed", ((-blank / 2, 0), (blank / 2, 0)))),
        (
            Size((-half, 0), (half, 0), say("{size:length}", size=rim), 0.08),
            Size((0, -depth), (0, 0), say("{size:size}", size=depth)),
        ),
    )
