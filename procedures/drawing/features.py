"""What is pressed or cut into a bar: grooves, dishes, chamfers, weld patches."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.branch import Feature

from .cage import draw_cage
from .holes import corners, draw_hole, hole_outline
from .notes import HoleNote
from .room import around
from .standing import STANDING
from .surface import beside, stations_between
from .views import Line

if TYPE_CHECKING:
    from .panel import Panel

_SEEN = 0.7  # cosine: a face is seen when it is turned at least so far to the reader
_BOWL = 12  # steps of the curve of a dish


def draw_feature(panel: Panel, note: HoleNote) -> None:
    """Draw a feature on a panel: a hole, or what else its kind is."""
    one = note.feature
    if one.is_hole:
        draw_hole(panel, note)
        return
    axes = panel.axes(note.branch, one.at)
    _BY_KIND.get(one.kind, _outlined)(panel, note, axes)


def _faces(one: Feature, axes: Axes, panel: Panel) -> float:
    """Return how far the face that a feature is made from is turned to the reader, 0 to 1."""
    axis = axes.up if one.face == "flat" else axes.left
    return abs(axis[panel.view.toward])


def _kind(note: HoleNote) -> str:
    return "worked-edge" if note.new else "edge"


def _draw(panel: Panel, kind: str, line: Line) -> None:
    for part in panel.plot.lines(line):
        panel.canvas.line(kind, part)


def _groove(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the two edges of a groove across the faces it is in; from the side the outline itself dips."""
    one = note.feature
    if _faces(one, axes, panel) < _SEEN and one.side != "all":
        return
    for along in (-one.length / 2, one.length / 2):
        line = [beside(panel, note.branch, one.at + along, across) for across in (-1.0, 1.0)]
        _draw(panel, _kind(note), line)


def _outlined(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the outline of what lies on a face, where the reader sees that face; from the side nothing."""
    one = note.feature
    if _faces(one, axes, panel) < _SEEN or one.width <= 0:
        return
    outline = [_place(axes, one, x, y) for x, y in hole_outline(one, corners(panel, one))]
    panel.canvas.line(_kind(note), [panel.spot(spot) for spot in outline], closed=True)


def _place(axes: Axes, one: Feature, along: float, across: float) -> tuple[float, float, float]:
    return axes.point(along, across, 0.0) if one.face == "flat" else axes.point(along, 0.0, across)


def _chamfer(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the edge of a chamfer along the bar, as far in from the outline as it goes."""
    one = note.feature
    places = stations_between(panel, note.branch, one.at - one.length / 2, one.at + one.length / 2)
    for side in (-1.0, 1.0):
        _draw(panel, _kind(note), [beside(panel, note.branch, at, side, -one.depth) for at in places])


# -- dishes ------------------------------------------------------------------------------------------


def _dish(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the rim of a dish where the reader looks into it; from the side its bowl, the hollow dashed."""
    if _faces(note.feature, axes, panel) >= _SEEN:
        _draw_rim(panel, note, axes)
    elif abs(axes.left[panel.view.toward]) >= _SEEN:
        _draw_bowl(panel, note, axes)


def _draw_rim(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the rim as far as it lies on the metal: a bar may stand in for a round blank."""
    one = note.feature
    branch = panel.pose.by_name[note.branch].branch
    runs: list[Line] = [[]]
    rim = hole_outline(one, corners(panel, one))
    for x, y in [*rim, rim[0]]:
        at = one.at + x
        if 0.0 <= at <= branch.length and abs(y) <= branch.section_at(at).width / 2 + 1e-6:
            runs[-1].append(panel.view.flat(axes.point(x, y, 0.0)))
        elif runs[-1]:
            runs.append([])
    for run in runs:
        _draw(panel, _kind(note), run)


def _draw_bowl(panel: Panel, note: HoleNote, axes: Axes) -> None:
    one = note.feature
    branch = panel.pose.by_name[note.branch].branch
    half = min(one.width / 2, one.at, branch.length - one.at)
    rim, deep = one.width / 2, one.depth
    if half <= 0 or deep <= 0:
        return
    radius = (rim * rim + deep * deep) / (2 * deep)
    thick = branch.section_at(one.at).thickness / 2
    sense = -1 if one.side == "bottom" else 1  # hollow from below, it stands up
    for face, kind in ((-thick, "worked" if note.new else "outline"), (thick, "hidden")):
        line = []
        for step in range(2 * _BOWL + 1):
            x = half * (step / _BOWL - 1)
            down = math.sqrt(max(radius * radius - x * x, 0.0)) - (radius - deep)
            line.append(panel.view.flat(axes.point(x, 0.0, sense * (face - down))))
        for part in panel.plot.lines(line):
            panel.canvas.line(kind, part)
            panel.metal.add(around(part))


_BY_KIND: dict[str, Callable[[Panel, HoleNote, Axes], None]] = {
    **STANDING,
    "groove": _groove,
    "chamfer": _chamfer,
    "dish": _dish,
    "basket": draw_cage,
}
