"""Where bars were welded end to end: the slope of the scarfs, or the jaws of a cleft, as a thin line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from procedures.engine.pieces.joint import Joint

from .notes import Notes
from .surface import beside

if TYPE_CHECKING:
    from .panel import Panel

_SLOPE = 0.75  # of the bar's thickness: half as long as a scarf usually is; common practice, no source
_SQUARE = 1.3  # a bar no wider than so many times its thickness shows its scarf in either view
_SEEN = 0.7

Line = list[tuple[float, float]]  # mm along a branch, and across it: 1 its left outline, -1 its right


def draw_welds(panel: Panel, notes: Notes) -> None:
    """Draw the line of every weld of two ends that lie on each other, where it is seen from the side."""
    for joint in notes.piece.joints:
        if joint.kind not in ("lap_weld", "ring_weld", "cleft_weld"):
            continue
        place = joint.places[0]
        if place.branch not in panel.pose.by_name or not _is_shown(panel, place.branch, place.at):
            continue
        new = notes.before is not None and joint not in notes.before.joints
        for line in _lines(panel, joint):
            spots = [beside(panel, place.branch, at, across) for at, across in line]
            for part in panel.plot.lines(spots):
                panel.canvas.line("worked-edge" if new else "edge", part)


def _is_shown(panel: Panel, branch: str, at: float) -> bool:
    section = panel.pose.by_name[branch].branch.section_at(at)
    axes = panel.axes(branch, at)
    if abs(axes.ahead[panel.view.toward]) > _SEEN:
        return False
    return abs(axes.left[panel.view.toward]) > _SEEN or section.width <= _SQUARE * section.thickness


def _lines(panel: Panel, joint: Joint) -> list[Line]:
    place = joint.places[0]
    branch = panel.pose.by_name[place.branch].branch
    half = _SLOPE * branch.section_at(place.at).thickness
    low, high = max(place.at - half, 0.0), min(place.at + half, branch.length)
    if joint.kind == "cleft_weld":
        back, front = (high, low) if place.at > branch.length / 2 else (low, high)
        return [[(back, -1.0), (front, 0.0), (back, 1.0)]]
    if joint.closes(branch):
        return [[(branch.length - half, -1.0), (branch.length, 0.0)], [(0.0, 0.0), (half, 1.0)]]
    return [[(low, -1.0), (high, 1.0)]]
