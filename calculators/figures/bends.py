"""Bends, corners, folds and offsets."""

from __future__ import annotations

from math import cos, pi, radians, sin

from calculators.figure import Figure, Note, Size, Spot, Stroke
from calculators.wording import say

from .arcs import arc


def bend(angle: float, inside_radius: float, thickness: float) -> Figure:
    """Return a bend of an angle [deg] with a straight at either side, at most a whole turn."""
    turn = radians(min(angle, 350.0))
    straight = max(inside_radius + thickness, 2 * thickness)
    outer, inner = inside_radius + thickness, inside_radius
    away: Spot = (
        sin(turn),
        -cos(turn),
    )  # along the far straight

    def along(radius: float) -> tuple[Spot, ...]:
        curve = arc((0, 0), radius, -pi / 2, -pi / 2 + turn)
        last = curve[-1]
        far = (last[0] + straight * away[1] * -1, last[1] + straight * away[0])
        return ((-straight, -radius), *curve, far)

    middle = arc((0, 0), inner + thickness / 2, -pi / 2, -pi / 2 + turn)
    return Figure(
        "The bend from the side; dashed, the middle of the bar through it.",
        (Stroke("metal", along(outer) + along(inner)[::-1], True), Stroke("dashed", middle)),
        (Size((-straight, -outer), (-straight, -inner), say("{size:size}", size=thickness), 0.07),),
        (Note((0, 0), say("{angle:angle}", angle=angle)),),
    )


def corner(first: float, second: float, thickness: float) -> Figure:
    """Return a square corner, its legs measured outside."""
    return Figure(
        "The corner from the side; its legs are measured outside.",
        (
            Stroke(
                "metal",
                (
                    (0, 0),
                    (first, 0),
                    (first, thickness),
                    (thickness, thickness),
                    (thickness, second),
                    (0, second),
                ),
                True,
            ),
        ),
        (
            Size((0, 0), (first, 0), say("{size:length}", size=first), -0.09),
            Size((0, 0), (0, second), say("{size:length}", size=second), 0.07),
        ),
    )


def fold(thickness: float, gap: float) -> Figure:
    """Return a bar folded back on itself."""
    straight, inner = 4 * thickness, gap / 2

    def hairpin(radius: float) -> tuple[Spot, ...]:
        return ((-straight, -radius), *arc((0, 0), radius, -pi / 2, pi / 2), (-straight, radius))

    middle = arc((0, 0), inner + thickness / 2, -pi / 2, pi / 2)
    return Figure(
        "The fold from the side; dashed, the middle of the bar in the turn.",
        (
            Stroke("metal", hairpin(inner + thickness) + hairpin(inner)[::-1], True),
            Stroke("dashed", middle),
        ),
        (
            Size(
                (-straight, -inner - thickness),
                (-straight, -inner),
                say("{size:size}", size=thickness),
                0.07,
            ),
        ),
    )


def offset(height: float, angle: float, radius: float, thickness: float, plan: float) -> Figure:
    """Return a step of a height in a bar that goes on level, over a length on plan."""
    turn, middle = radians(angle), radius + thickness / 2
    straight = 2 * thickness
    up = arc((0, middle), middle, -pi / 2, -pi / 2 + turn, 16)
    down = arc((plan, height - middle), middle, pi / 2 + turn, pi / 2, 16)
    line = ((-straight, 0.0), *up, *down, (plan + straight, height))
    leans = (
        0.0,
        *(turn * part / 16 for part in range(17)),
        *(turn - turn * part / 16 for part in range(17)),
        0.0,
    )
    half = thickness / 2
    above = tuple((x - half * sin(a), y + half * cos(a)) for (x, y), a in zip(line, leans, strict=True))
    below = tuple((x + half * sin(a), y - half * cos(a)) for (x, y), a in zip(line, leans, strict=True))
    return Figure(
        "The step from the side; dashed, the middle of the bar.",
        (Stroke("metal", above + below[::-1], True), Stroke("dashed", up + down)),
        (
            Size((plan + straight, 0), (plan + straight, height), say("{size:size}", size=height), -0.06),
            Size((0, -half), (plan, -half), say("{size:length}", size=plan), -0.12),
        ),
    )
