"""The drawing of a detail: what a circle of a view holds, cut out at a larger scale, where there is room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import shapely
from shapely import LineString, Polygon

from .canvas import Canvas, Words
from .detail import Detail
from .figure import Figure
from .linework import thin_boxes
from .notes import Notes
from .panel import Panel
from .plot import Plot
from .room import Box
from .views import Line, Spot, is_clockwise

_LONGER = 8  # times as far off a detail stands rather than make its drawing longer
_FILLED = ("tone", "cover", "dot")
_INSIDE = 0.99  # of a circle: within so much of it, its corners cut nothing off
_ROUND = 48  # corners of a circle that is cut off


def draw_detail(whole: Canvas, down: float, foot: float, detail: Detail, figures: Sequence[Figure]) -> float:
    """Draw a detail where there is room for it on a sheet; return where the drawing ends now.

    `down` is how far its panel has been moved, `foot` where the drawing ended; `figures` are the piece, and
    what it was before.
    """
    size = whole.sheet.letter
    radius = detail.size
    over = radius + 1.3 * size  # its title stands on it
    x, y = detail.spot
    at = _free_place(whole, detail.panel, (x, y + down), down, foot, radius, over)
    whole.inset = _drawn(detail, figures, at)
    whole.circle("dim", at, radius)
    whole.write(Words(detail.title, (at[0], at[1] - radius - 0.4 * size), size, kind="strong"))
    return max(foot, at[1] + radius)


def _drawn(detail: Detail, figures: Sequence[Figure], at: Spot) -> Canvas:
    """Return a canvas with what is in the circle, at the scale of the detail, its middle `at` this spot."""
    (x, y), radius = detail.centre, detail.radius
    window = (x - radius, y - radius, x + radius, y + radius)
    view, notes = detail.panel.view, figures[0].notes
    plot = Plot(detail.scale, detail.ratio, x, x, 0.0)
    finest = detail.sheet.finest / detail.scale
    (posed, seen), *before = (one.near(view, window, finest) for one in figures)
    panel = Panel(detail.sheet, plot, view, posed, seen, notes.worked, is_side=detail.panel.is_side)
    notes = _notes_near(notes, panel, detail)
    for _, old in before:
        panel.draw_ghost(old)
    panel.draw_metal()
    panel.draw_holes(notes)
    panel.draw_skins(notes, treatments=False)
    if not panel.sheet.is_small:
        panel.draw_centre_lines()
    return _cut_out(panel.canvas, plot.at(detail.centre), detail.size, at)


def _notes_near(notes: Notes, panel: Panel, detail: Detail) -> Notes:
    """Return the notes with what is drawn near the place."""
    middle = panel.plot.at(detail.centre)

    def is_near(branch: str, at: float, far: float) -> bool:
        reached = detail.size + far * detail.scale
        return branch in shown and math.dist(panel.on(branch, at), middle) < reached

    shown = {one.branch for one in panel.seen.facets}
    return replace(
        notes,
        marks=(),
        holes=tuple(
            one
            for one in notes.holes
            if is_near(one.branch, one.feature.at, max(one.feature.length, one.feature.width))
        ),
        skins=tuple(one for one in notes.skins if one.branch in shown and one.new),
    )


def _cut_out(drawn: Canvas, middle: Spot, radius: float, at: Spot) -> Canvas:
    """Return a canvas with what of another lies in a circle, its middle moved to `at`."""
    made = Canvas(drawn.sheet)
    x, y = at[0] - middle[0], at[1] - middle[1]
    for kind, line, closed in _clipped(drawn, middle, radius):
        made.line(kind, [(px + x, py + y) for px, py in line], closed=closed)
    for kind, circles in drawn.circles.items():
        for spot, size in circles:
            if math.dist(spot, middle) + size <= radius:
                made.circle(kind, (spot[0] + x, spot[1] + y), size)
    return made


def _clipped(drawn: Canvas, centre: Spot, radius: float) -> Iterator[tuple[str, Line, bool]]:
    """Yield (kind, line, whether it is closed) for what of a canvas lies in a circle."""
    disc = shapely.Point(centre).buffer(radius, quad_segs=_ROUND // 4)
    for kind, lines in drawn.lines.items():
        for line, closed in lines:
            if all(math.dist(one, centre) < radius * _INSIDE for one in line):
                yield kind, line, closed
            elif closed and kind in _FILLED:
                for part in _parts(Polygon(line).buffer(0).intersection(disc), 2):
                    ring = [(px, py) for px, py in part.exterior.coords[:-1]]
                    yield kind, ring if is_clockwise(ring) == is_clockwise(line) else ring[::-1], True
            else:
                whole = LineString([*line, line[0]] if closed else line)
                for part in _parts(whole.intersection(disc), 1):
                    yield kind, [(px, py) for px, py in part.coords], False


def _parts(shape: Any, dimension: int) -> list[Any]:
    return [one for one in shapely.get_parts(shape) if one and shapely.get_dimensions(one) == dimension]


def _free_place(
    whole: Canvas, panel: Panel, spot: Spot, down: float, foot: float, radius: float, over: float
) -> Spot:
    """Return the middle of the free place nearest to a spot, below everything where there is none other."""
    sheet = whole.sheet
    gap = 0.7 * sheet.letter
    tree = shapely.STRtree(shapely.box(*np.array(list(_taken(whole, panel, down))).T))
    step = sheet.letter / 2
    xs = np.arange(sheet.margin + radius, sheet.width - sheet.margin - radius + 1e-6, step)
    lowest = foot + over + gap
    ys = np.arange(sheet.margin + over, lowest + step, step)
    x, y = (one.ravel() for one in np.meshgrid(xs, ys))
    rooms = shapely.box(x - radius - gap, y - over - gap, x + radius + gap, y + radius + gap)
    free = np.ones(len(x), dtype=bool)
    free[tree.query(rooms, predicate="intersects")[0]] = False
    longer = np.maximum(y + radius - foot, 0.0)
    cost = np.hypot(x - spot[0], y - spot[1]) + _LONGER * longer + np.where(free, 0.0, 1e9)
    best = int(np.argmin(cost))
    return float(x[best]), float(y[best])


def _taken(whole: Canvas, panel: Panel, down: float) -> Iterator[Box]:
    """Yield boxes round all that is drawn on a sheet."""
    thin = 0.05 * whole.sheet.letter
    for lines in whole.lines.values():
        for line, closed in lines:
            yield from thin_boxes([*line, line[0]] if closed else line, thin)
    for circles in whole.circles.values():
        for (x, y), radius in circles:
            yield x - radius, y - radius, x + radius, y + radius
    yield from (one.box for one in whole.words)
    yield from ((one[0], one[1] + down, one[2], one[3] + down) for one in panel.metal.boxes)
