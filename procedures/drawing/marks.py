"""The signs of marks and cuts on a view: a dot in a ring, from the side a stroke; two heavy strokes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from .notes import Notes
from .room import around
from .views import Spot, heading, left_of

if TYPE_CHECKING:
    from .panel import Panel

_FACING = 0.5  # sine: a face turned less far aside is looked at


def draw_marks(panel: Panel, notes: Notes) -> None:
    """Draw a punch mark for every mark, a dot in a ring; from the side a stroke down from its face."""
    for one in notes.marks:
        if notes.in_a_hole(one.branch, one.at):
            continue
        x, y = panel.on(one.branch, one.at)
        face = _face(panel, one.branch, one.at)
        if panel.is_side and face is not None:
            _, up = panel.edges(one.branch, one.at, face)
            panel.canvas.line("mark", [(x + face[0] * up, y - face[1] * up), (x, y)])
            continue
        ring = _ring(panel, one.branch, one.at)
        panel.canvas.circle("mark", (x, y), ring)
        panel.canvas.circle("dot", (x, y), ring * 0.36)


def mark_height(panel: Panel, branch: str, at: float) -> float:
    """Return how far above its centre line the sign of a mark on a level bar reaches."""
    is_side = panel.is_side and _face(panel, branch, at) is not None
    return panel.edges(branch, at)[1] if is_side else _ring(panel, branch, at)


def _face(panel: Panel, branch: str, at: float) -> Spot | None:
    """Return which way in the view the face lies that marks are punched in; None where it is looked at."""
    axes = panel.axes(branch, at)
    x, y = axes.up[0], axes.up[panel.view.upward]
    far = math.hypot(x, y)
    return (x / far, y / far) if far > _FACING else None


def _ring(panel: Panel, branch: str, at: float) -> float:
    """Return the radius of the sign of a mark, within the bar."""
    section = panel.pose.by_name[branch].branch.section_at(at)
    thick = min(section.width, section.thickness) * panel.plot.scale
    low, up = panel.edges(branch, at, left_of(heading(panel.axes(branch, at), panel.view)[0]))
    return min(0.22 * panel.sheet.letter, 0.45 * max(up - low, thick, 1.0))


def draw_cuts(panel: Panel, notes: Notes) -> None:
    """Draw two heavy strokes where the bar was cut, as cutting planes have them."""
    gap, over = 0.15 * panel.sheet.letter, 0.6 * panel.sheet.letter
    for point in notes.cuts:
        (x, y), _ = panel.way(point.branch, point.at)
        across = (y, x)
        low, high = panel.edges(point.branch, point.at, across)
        at = panel.on(point.branch, point.at)
        for offs in ((low - over, low - gap), (high + gap, high + over)):
            stroke = [(at[0] + across[0] * off, at[1] - across[1] * off) for off in offs]
            panel.canvas.line("cut", stroke)
            panel.metal.add(around(stroke))
