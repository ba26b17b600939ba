"""Holes in a view: from their face as their shape with its centre lines, from the side as hidden edges."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.branch import Feature

from .notes import HoleNote
from .views import Line, is_clockwise

if TYPE_CHECKING:
    from .panel import Panel

_LEAST, _MOST = 12, 120  # corners of a round hole, or of the two ends of a slot


def draw_hole(panel: Panel, note: HoleNote) -> None:
    """Draw a hole on a panel."""
    posed = panel.pose.by_name[note.branch]
    one = note.feature
    axes = posed.axes_at(one.at)
    axis, across = (axes.up, axes.left) if one.face == "flat" else (axes.left, axes.up)
    facing = abs(axis[panel.view.toward])
    if facing > 0.7:
        _from_the_face(panel, note, axes)
    elif facing < 0.3 and abs(across[panel.view.toward]) > 0.7:
        section = posed.branch.section_at(one.at)
        deep = section.thickness if one.face == "flat" else section.width
        _from_the_side(panel, one, axes, deep)


def _place(
    axes: Axes, one: Feature, along: float, across: float, deep: float = 0.0
) -> tuple[float, float, float]:
    return axes.point(along, across, deep) if one.face == "flat" else axes.point(along, deep, across)


def _from_the_face(panel: Panel, note: HoleNote, axes: Axes) -> None:
    one = note.feature
    kind = "worked" if note.new else "outline"
    outline = [panel.spot(_place(axes, one, x, y)) for x, y in hole_outline(one, corners(panel, one))]
    if one.width > 0 and any(
        span.branch == note.branch and span.low <= one.at <= span.high for span in panel.worked
    ):
        panel.canvas.line("tone", outline[::-1] if is_clockwise(outline) else outline, closed=True)
    panel.canvas.line(kind, outline, closed=one.width > 0)
    if one.width <= 0:
        return
    over = 0.35 * panel.sheet.letter / panel.plot.scale
    for x, y in ((one.length / 2 + over, 0.0), (0.0, one.width / 2 + over)):
        ends = [panel.spot(_place(axes, one, sign * x, sign * y)) for sign in (-1, 1)]
        panel.canvas.line("centre", ends)


def _from_the_side(panel: Panel, one: Feature, axes: Axes, deep: float) -> None:
    if one.width <= 0:
        return
    for x in (-one.length / 2, one.length / 2):
        panel.canvas.line(
            "hidden", [panel.spot(_place(axes, one, x, 0.0, sign * deep / 2)) for sign in (-1, 1)]
        )
    over = deep / 2 + 0.35 * panel.sheet.letter / panel.plot.scale
    panel.canvas.line("centre", [panel.spot(_place(axes, one, 0.0, 0.0, sign * over)) for sign in (-1, 1)])


def corners(panel: Panel, one: Feature) -> int:
    """Return how many corners make a hole look round, an even number."""
    radius = max(one.length, one.width) / 2 * panel.plot.scale
    miss = min(panel.sheet.finest / radius, 1.0) if radius > 0 else 1.0
    count = math.pi / math.acos(1 - miss)
    return min(max(2 * math.ceil(count / 2), _LEAST), _MOST)


def hole_outline(one: Feature, count: int) -> Line:
    """Return the outline of a hole about its middle [mm], along the bar and across it, in so many corners."""
    long, wide = one.length / 2, one.width / 2
    if wide <= 0:
        return [(-long, 0.0), (long, 0.0)]
    if one.shape == "round":
        turns = (2 * math.pi * step / count for step in range(count))
        return [(long * math.cos(turn), wide * math.sin(turn)) for turn in turns]
    if one.shape == "slot":
        middle = long - wide
        return [
            (side * middle + wide * math.cos(turn), wide * math.sin(turn))
            for side, first in ((1, -0.5), (-1, 0.5))
            for turn in (math.pi * (first + step / (count // 2)) for step in range(count // 2 + 1))
        ]
    return [(-long, -wide), (long, -wide), (long, wide), (-long, wide)]
