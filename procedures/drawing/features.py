"""What stands on a bar or is pressed into it: grooves, dishes, chamfers, collars, rivets, weld patches."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.branch import Feature

from .holes import corners, draw_hole, hole_outline
from .notes import HoleNote
from .room import around
from .views import Line

if TYPE_CHECKING:
    from .panel import Panel

_CORNERS = 16  # of a dome
_SEEN = 0.7  # cosine: a face is seen when it is turned at least so far to the reader


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


def _groove(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the two edges of a groove across the faces it is in; from the side the outline itself dips."""
    one = note.feature
    if _faces(one, axes, panel) < _SEEN and one.side != "all":
        return
    for along in (-one.length / 2, one.length / 2):
        low, high = (
            reach / panel.plot.scale for reach in panel.edges(note.branch, one.at + along, _up(axes, panel))
        )
        there = panel.axes(note.branch, one.at + along)
        x, y = panel.view.flat(there.origin)
        up = _up(there, panel)
        line = [(x + up[0] * off, y + up[1] * off) for off in (low, high)]
        for part in panel.plot.lines(line):
            panel.canvas.line(_kind(note), part)


def _up(axes: Axes, panel: Panel) -> tuple[float, float]:
    """Return the unit vector of the view to the left of the bar."""
    x, y = axes.ahead[0], axes.ahead[panel.view.upward]
    seen = math.hypot(x, y)
    return (-y / seen, x / seen) if seen > 1e-9 else (0.0, 1.0)


def _outlined(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the outline of what lies on a face, where the reader sees that face; from the side nothing."""
    one = note.feature
    if _faces(one, axes, panel) < _SEEN or one.width <= 0:
        return
    branch = panel.pose.by_name[note.branch].branch
    inside = replace(  # a dish may be as large as its disc: its rim stays on the metal
        one,
        length=min(one.length, 2 * one.at, 2 * (branch.length - one.at)),
        width=min(one.width, branch.section_at(one.at).width),
    )
    outline = [_place(axes, one, x, y) for x, y in hole_outline(inside, corners(panel, one))]
    panel.canvas.line(_kind(note), [panel.spot(spot) for spot in outline], closed=True)


def _place(axes: Axes, one: Feature, along: float, across: float) -> tuple[float, float, float]:
    return axes.point(along, across, 0.0) if one.face == "flat" else axes.point(along, 0.0, across)


def _chamfer(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the edge of a chamfer along the bar, as far in from the outline as it goes."""
    one = note.feature
    low_at, high_at = one.at - one.length / 2, one.at + one.length / 2
    stations = {
        station.at for posed in panel.pose.by_name[note.branch].segments for station in posed.stations
    }
    places = sorted({low_at, high_at} | {at for at in stations if low_at < at < high_at})
    for side in (-1, 1):
        line: Line = []
        for at in places:
            there = panel.axes(note.branch, at)
            up = _up(there, panel)
            low, high = (reach / panel.plot.scale for reach in panel.edges(note.branch, at, up))
            off = high - one.depth if side > 0 else low + one.depth
            x, y = panel.view.flat(there.origin)
            line.append((x + up[0] * off, y + up[1] * off))
        for part in panel.plot.lines(line):
            panel.canvas.line(_kind(note), part)


def _band(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw a collar or a wrap: a band over the bars it holds that stands a little proud of them."""
    one = note.feature
    up = _up(axes, panel)
    x, y = panel.view.flat(axes.origin)
    reaches = []
    for branch, at in ((note.branch, one.at), *note.held):
        there_x, there_y = panel.view.flat(panel.axes(branch, at).origin)
        off = (there_x - x) * up[0] + (there_y - y) * up[1]
        reaches += [off + reach / panel.plot.scale for reach in panel.edges(branch, at, up)]
    low, high = min(reaches), max(reaches)
    proud = one.depth or 0.12 * (high - low)
    ahead = (up[1], -up[0])
    band = [
        (x + ahead[0] * along + up[0] * off, y + ahead[1] * along + up[1] * off)
        for along, off in (
            (-one.length / 2, low - proud),
            (one.length / 2, low - proud),
            (one.length / 2, high + proud),
            (-one.length / 2, high + proud),
        )
    ]
    _solid(panel, note, band, over=True)


def _head(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw a head set on the end of a branch: a dome beyond it, or a circle where the end is looked at."""
    one = note.feature
    at_start = one.at <= panel.pose.by_name[note.branch].branch.length / 2
    high, half = one.depth, one.width / 2
    if high <= 0 or half <= 0:
        return
    turns = [math.pi * step / _CORNERS for step in range(_CORNERS + 1)]
    if abs(axes.ahead[panel.view.toward]) > _SEEN:
        spots = [axes.point(0.0, half * math.cos(2 * turn), half * math.sin(2 * turn)) for turn in turns[:-1]]
        panel.canvas.line(_kind(note), [panel.spot(spot) for spot in spots], closed=True)
        return
    up = _up(axes, panel)
    x, y = panel.view.flat(axes.origin)
    ahead = (up[1] * (-1 if at_start else 1), -up[0] * (-1 if at_start else 1))
    dome = [
        (
            x + ahead[0] * high * math.sin(turn) + up[0] * half * math.cos(turn),
            y + ahead[1] * high * math.sin(turn) + up[1] * half * math.cos(turn),
        )
        for turn in turns
    ]
    _solid(panel, note, dome)


def _solid(panel: Panel, note: HoleNote, ring: Line, *, over: bool = False) -> None:
    """Draw the outline of metal that stands on the bar, or lies `over` it, and keep words clear of it."""
    for part in panel.plot.lines([*ring, ring[0]]):
        kind = "worked" if note.new else "outline"
        if over:
            panel.canvas.line("cover", part, closed=True)
        panel.canvas.line(f"over-{kind}" if over else kind, part)
        panel.metal.add(around(part))


def _nothing(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw nothing: what a fillet adds is too little to show, and is said in words."""


_BY_KIND: dict[str, Callable[[Panel, HoleNote, Axes], None]] = {
    "groove": _groove,
    "chamfer": _chamfer,
    "collar": _band,
    "wrap": _band,
    "head": _head,
    "fillet": _nothing,
}
