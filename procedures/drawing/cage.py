"""The rods of a basket: wound round its axis from weld to weld, those behind seen through the gaps."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from shapely import LineString, Polygon, line_merge, union_all
from shapely.geometry.base import BaseGeometry

from calculators.formulas.basket_length import closed_radius, rod_length
from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.pose import PosedBranch

from .notes import HoleNote
from .room import around
from .views import Line, is_clockwise

if TYPE_CHECKING:
    from .panel import Panel

_FEWEST, _MOST = 2, 30  # rods of a basket
_A_TURN, _LEAST = 28, 16  # steps along a rod
_HEAVY = 3.0  # heavy lines: rods that come out thinner have light ones


@dataclass(frozen=True)
class _Rods:
    """How many rods there are, how thick, and how far their middles lie from the axis at the welds [mm]."""

    count: int
    thick: float
    closed: float


def is_caged(posed: PosedBranch, low: float, high: float) -> bool:
    """Whether a run of a branch is told as the spindle that the rods of a basket lie in."""
    middle = (low + high) / 2
    return any(
        one.kind == "basket" and abs(one.at - middle) < one.length / 2 for one in posed.branch.features
    )


def draw_cage(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw a basket: the near runs of its rods, and of the far ones what the near ones leave to be seen."""
    rods = _rods_of(panel.pose.by_name[note.branch], note.feature)
    if rods is None:
        return
    fine = panel.sheet.finest / panel.plot.scale
    runs = [[*_runs(panel, note, rods, rod)] for rod in range(rods.count)]
    pipes = [[(near, _pipe(line, rods.thick / 2, fine)) for near, line in rod] for rod in runs]
    before = union_all([pipe for rod in pipes for near, pipe in rod if near])
    welded = union_all([Polygon(one.ring).buffer(fine) for one in panel.seen.facets])
    kind = "worked" if note.new and _is_heavy(panel, rods) else "outline"
    for rod in pipes:
        behind = union_all([pipe for near, pipe in rod if not near])
        for near, pipe in rod:
            if note.new:
                _tone(panel, pipe.difference(welded))
            edge = pipe.boundary.difference(behind.buffer(-fine) if near else before.buffer(-fine))
            for line in _lines(edge.difference(welded)):
                for part in panel.plot.lines(line):
                    panel.canvas.line(kind, part)
                    panel.metal.add(*(around(step) for step in pairwise(part)))


def _is_heavy(panel: Panel, rods: _Rods) -> bool:
    return rods.thick * panel.plot.scale > _HEAVY * panel.sheet.worked


def _pipe(line: Line, half: float, fine: float) -> BaseGeometry:
    """Return a rod along its middle line in the view [mm]."""
    found: BaseGeometry = LineString(line).buffer(half, quad_segs=4).simplify(fine / 2)
    return found


def _tone(panel: Panel, shape: BaseGeometry) -> None:
    for one in getattr(shape, "geoms", (shape,)):
        if isinstance(one, Polygon) and not one.is_empty:
            spots = [panel.plot.at((x, y)) for x, y in one.exterior.coords[:-1]]
            panel.canvas.line("tone", spots if is_clockwise(spots) else spots[::-1], closed=True)


def _lines(shape: BaseGeometry) -> list[Line]:
    merged = line_merge(shape) if shape.geom_type == "MultiLineString" else shape
    found = getattr(merged, "geoms", (merged,))
    return [
        [(x, y) for x, y in one.coords] for one in found if isinstance(one, LineString) and one.length > 0
    ]


def _rods_of(posed: PosedBranch, one: Feature) -> _Rods | None:
    """Return the rods of a basket: as many as give the metal of the ledger best; None where there is none."""
    spindle = posed.branch.segments_between(one.at - one.length / 2, one.at + one.length / 2)
    metal = sum(segment.volume for segment in spindle) + one.volume
    if metal <= 0 or not spindle:
        return None
    wide = spindle[0].start.width / 2
    found: tuple[float, _Rods] | None = None
    for count in range(_FEWEST, _MOST + 1):
        thick = wide / (closed_radius(1.0, count) + 0.5)
        closed = closed_radius(thick, count)
        long = rod_length(one.length, one.turns, one.width / 2 - thick / 2, closed)
        missed = abs(count * math.pi / 4 * thick * thick * long - metal)
        if found is None or missed < found[0]:
            found = missed, _Rods(count, thick, closed)
    return found[1] if found else None


def _runs(panel: Panel, note: HoleNote, rods: _Rods, rod: int) -> list[tuple[bool, Line]]:
    """Return the middle line of a rod in the view [mm], in runs that lie before the axis and behind it."""
    one = note.feature
    steps = max(math.ceil(_A_TURN * one.turns), _LEAST)
    widest = one.width / 2 - rods.thick / 2
    runs: list[tuple[bool, Line]] = []
    for step in range(steps + 1):
        share = step / steps
        axes = panel.axes(note.branch, one.at + (share - 0.5) * one.length)
        far = rods.closed + (widest - rods.closed) * math.sin(math.pi * share)
        turn = math.tau * rod / rods.count  # the axes of the spindle are twisted as the rods are
        place = axes.point(0.0, far * math.cos(turn), far * math.sin(turn))
        near = panel.view.depth(place) >= panel.view.depth(axes.origin) - 1e-6
        spot = panel.view.flat(place)
        if not runs or runs[-1][0] != near:
            runs.append((near, [runs[-1][1][-1]] if runs else []))
        runs[-1][1].append(spot)
    return [run for run in runs if len(run[1]) > 1]
