"""What is cut through or into a branch: holes, slits, grooves and the chamfers of two edges."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from calculators.sections import Section
from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.pose import PosedBranch

from .contours import Array, chords_of
from .mesh import Mesh, placed_at, skinned

GAP = 0.2  # mm: how wide a slit stands open, so that it is seen
_BEYOND = 1.0  # mm that a cutter reaches beyond the metal it cuts
_ARC = 16  # chords across a groove

Outline = list[tuple[float, float]]


def cutters_of(posed: PosedBranch) -> Iterator[Mesh]:
    """Yield a solid for each place where a branch has metal taken out or pressed in."""
    for one in posed.branch.features:
        if one.is_hole:
            yield _through(posed, one)
        elif one.kind == "groove" and one.depth > 0 and not is_turned(posed, one):
            yield from _pressed(posed, one)
        elif one.kind == "chamfer":
            yield from _edges(posed, one)


def is_turned(posed: PosedBranch, one: Feature) -> bool:
    """Whether a groove runs all round a round bar, so that it is a waist and not four cuts."""
    return one.side == "all" and posed.branch.section_at(one.at).shape == "round"


def groove_dip(one: Feature, off: float) -> float:
    """Return how deep a groove is so far [mm] from its middle: it is part of a circle."""
    half, depth = one.length / 2, one.depth
    if abs(off) >= half:
        return 0.0
    radius = (half * half + depth * depth) / (2 * depth)
    return max(math.sqrt(radius * radius - off * off) - (radius - depth), 0.0)


def hole_outline(one: Feature) -> Outline:
    """Return the outline of a hole (along, across) [mm] about its middle, counter-clockwise."""
    long, wide = one.length / 2, max(one.width, GAP) / 2
    if one.shape in ("round", "slot"):
        wide = min(wide, long)
        quarter = chords_of(wide)
        # Chords lie inside their circle: made so much longer, the polygon has its area.
        corners = 4 * quarter
        wider = math.sqrt(math.pi / (corners / 2 * math.sin(math.tau / corners))) * wide
        middle = long - wide
        turns = [math.pi * (step / (2 * quarter) - 0.5) for step in range(2 * quarter + 1)]
        right = [(middle + wider * math.cos(turn), wider * math.sin(turn)) for turn in turns]
        left = [(-along, -across) for along, across in right]
        return right + left if middle > 0 else right[:-1] + left[:-1]
    return [(-long, -wide), (long, -wide), (long, wide), (-long, wide)]


def hole_volume(one: Feature, section: Section) -> float:
    """Return the metal [mm³] that a hole takes out of plain bar of a section."""
    corners = section.outline()
    if one.face == "edge":
        corners = [(z, -y) for y, z in corners]
    outline = hole_outline(one)
    wide = max(across for _, across in outline)
    count = 200
    total = 0.0
    for index in range(count):
        across = -wide + (index + 0.5) * 2 * wide / count
        total += _length_at(outline, across) * _height_at(corners, across)
    return total * 2 * wide / count


def _length_at(outline: Outline, across: float) -> float:
    return _height_at([(one[1], one[0]) for one in outline], across)


def _height_at(corners: Outline, at: float) -> float:
    """Return how high a convex outline is at a place across it."""
    heights = []
    for (y0, z0), (y1, z1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if min(y0, y1) <= at <= max(y0, y1) and y0 != y1:
            heights.append(z0 + (z1 - z0) * (at - y0) / (y1 - y0))
    return max(heights) - min(heights) if heights else 0.0


# -- the solids --------------------------------------------------------------------------------------


def _through(posed: PosedBranch, one: Feature) -> Mesh:
    """Return the solid of a hole, from beyond one face to beyond the other."""
    section, axes = posed.branch.section_at(one.at), posed.axes_at(one.at)
    deep = (section.thickness if one.face == "flat" else section.width) + one.bulge
    outline = hole_outline(one)
    rings = np.array(
        [
            [
                _place(axes, along, across, high) if one.face == "flat" else _place(axes, along, high, across)
                for along, across in outline
            ]
            for high in (-deep / 2 - _reach(section), deep / 2 + _reach(section))
        ]
    )
    return skinned(placed_at(rings, one.at))


def _reach(section: Section) -> float:
    """Return how far beyond its half size an outline may lie from its centroid, and a little more [mm]."""
    return section.thickness / 4 + _BEYOND


def _place(axes: Axes, along: float, left: float, up: float) -> tuple[float, float, float]:
    return axes.point(along, left, up)


def _pressed(posed: PosedBranch, one: Feature) -> Iterator[Mesh]:
    """Yield the round tool that pressed a groove, for each face it went in from."""
    section, axes = posed.branch.section_at(one.at), posed.axes_at(one.at)
    half = one.length / 2
    arc = [(half * math.cos(math.pi * step / _ARC), 0.0) for step in range(_ARC + 1)]
    low = [(along, -groove_dip(one, along)) for along, _ in arc]
    profile = [*low, (-half, _BEYOND), (half, _BEYOND)]
    corners = section.outline()
    reach = max(section.width, section.thickness) + one.bulge
    for axis, sign in _faces(one):
        level = max(sign * corner[axis] for corner in corners)
        rings = []
        for side in (-reach, reach):
            ring = []
            for along, high in profile:
                out = sign * (level + high)
                ring.append(_place(axes, along, side, out) if axis == 1 else _place(axes, along, out, side))
            rings.append(ring)
        yield skinned(placed_at(np.array(rings), one.at))


def _faces(one: Feature) -> list[tuple[int, int]]:
    """Return the faces a groove is in as (0 across or 1 up, the side)."""
    if one.side == "all":
        return [(0, 1), (0, -1), (1, 1), (1, -1)]
    axis = 1 if one.face == "flat" else 0
    if one.side == "both":
        return [(axis, 1), (axis, -1)]
    return [(axis, -1 if one.side in ("bottom", "right") else 1)]


def _edges(posed: PosedBranch, one: Feature) -> Iterator[Mesh]:
    """Yield a wedge along each of the two edges that a chamfer takes off."""
    low, high = one.at - one.length / 2, one.at + one.length / 2
    ends = {low: -_BEYOND if low < _BEYOND else 0.0}
    ends[high] = _BEYOND if high > posed.branch.length - _BEYOND else 0.0
    stations = {station.at for segment in posed.segments for station in segment.stations}
    places = [low, *sorted(at for at in stations if low + _BEYOND < at < high - _BEYOND), high]
    for left, up in _corners(one):
        rings = []
        for at in places:
            section = posed.branch.section_at(at)
            axes = posed.axes_at(at).moved(ends.get(at, 0.0))
            y, z = left * section.width / 2, up * section.thickness / 2
            beyond_y, beyond_z, size = left * _BEYOND, up * _BEYOND, one.depth
            flat = [
                (y + beyond_y, z + beyond_z),
                (y - left * size - beyond_y, z + beyond_z),
                (y + beyond_y, z - up * size - beyond_z),
            ]
            rings.append([_place(axes, 0.0, *spot) for spot in flat])
        yield skinned(_with_places(np.array(rings), places))


def _corners(one: Feature) -> list[tuple[int, int]]:
    pairs = {"top": ((1, 1), (-1, 1)), "bottom": ((1, -1), (-1, -1)), "left": ((1, 1), (1, -1))}
    return list(pairs.get(one.side, ((-1, 1), (-1, -1))))


def _with_places(rings: Array, places: list[float]) -> Array:
    beside = np.broadcast_to(np.array(places)[:, None, None], (*rings.shape[:2], 1))
    return np.concatenate([rings, beside], axis=2)
