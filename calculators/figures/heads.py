"""Rivets, tenons, collars and bolt heads."""

from __future__ import annotations

from calculators.figure import Figure, Size, Stroke
from calculators.sections import Section
from calculators.wording import say

from .arcs import box


def rivet(diameter: float, hole: float, grip: float, stands: float) -> Figure:
    """Return a rivet through its parts before it is headed, its first head below."""
    half, gap, wide = diameter / 2, hole / 2, 2.2 * diameter
    return Figure(
        "The rivet through both parts before it is headed; its first head is below.",
        (
            Stroke("metal", box(-half, 0, half, grip + stands), True),
            Stroke("metal", box(-0.8 * diameter, -0.6 * diameter, 0.8 * diameter, 0), True),
            *(
                Stroke("outline", box(side, low, other, low + grip / 2), True)
                for low in (0, grip / 2)
                for side, other in ((-wide, -gap), (gap, wide))
            ),
        ),
        (
            Size((wide, 0), (wide, grip), say("{size:size}", size=grip), -0.06),
            Size((half, grip), (half, grip + stands), say("{size:size}", size=stands), -0.2),
        ),
    )


def tenon(bar: Section, pin: Section, grip: float, length: float) -> Figure:
    """Return a tenon at the end of its bar, from the side, with what it goes through dashed."""
    half, thin = bar.thickness / 2, pin.thickness / 2
    back = -1.5 * bar.thickness
    return Figure(
        "The tenon at the end of its bar; dashed, what it goes through.",
        (
            Stroke(
                "metal",
                (
                    (back, -half),
                    (0, -half),
                    (0, -thin),
                    (length, -thin),
                    (length, thin),
                    (0, thin),
                    (0, half),
                    (back, half),
                ),
                True,
            ),
            *(
                Stroke("dashed", box(0, min(a, b), grip, max(a, b)), True)
                for a, b in ((thin, 2 * half), (-thin, -2 * half))
            ),
        ),
        (
            Size((0, -2 * half), (grip, -2 * half), say("{size:size}", size=grip), -0.08),
            Size((0, 2 * half), (length, 2 * half), say("{size:size}", size=length), 0.05),
        ),
    )


def head(of: Section, height: float, shank: Section, used: float) -> Figure:
    """Return a head at the end of its shank, and dashed the bar that goes into it."""
    wide, thin = of.width / 2, shank.width / 2
    back = -2.5 * shank.width
    return Figure(
        "The head at the end of its shank; dashed, the bar that goes into it.",
        (
            Stroke("metal", box(back, -thin, 0, thin), True),
            Stroke("metal", box(0, -wide, height, wide), True),
            Stroke("dashed", box(0, -thin, used, thin), True),
        ),
        (
            Size((0, -wide), (height, -wide), say("{size:size}", size=height), -0.08),
            Size((0, wide), (used, wide), say("{size:length}", size=used), 0.06),
        ),
    )


def collar(width: float, height: float, thickness: float) -> Figure:
    """Return a collar closed round its bundle, seen along the bundle."""
    return Figure(
        "The collar closed round the bundle, seen along it.",
        (
            Stroke("metal", box(-thickness, -thickness, width + thickness, height + thickness), True),
            Stroke("hole", box(0, 0, width, height), True),
        ),
        (
            Size((0, 0), (width, 0), say("{size:size}", size=width), 0.12),
            Size((width + thickness, 0), (width + thickness, height), say("{size:size}", size=height), -0.06),
            Size((-thickness, 0), (0, 0), say("{size:size}", size=thickness), -0.16),
        ),
    )
