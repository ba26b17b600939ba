"""Lines of a crowded view made fewer: what lies under another line is left out, what meets is one line.

All on the sheet, where lines nearer to each other than the pencil is broad cannot be told apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from .views import Line, Spot

_EVEN = 20  # parts of a unit that ends are rounded to before they are joined
_MITRE = 5.0  # times as far as its sides are from a line, the corners of what is drawn round it reach at most
_LEAST = 2.0  # pencils: what is left of a line that is shorter is left out


def not_under(lines: Sequence[Line], over: Sequence[Line], near: float) -> list[Line]:
    """Return what of the lines is seen beside others, which hide all that is nearer to them than `near`."""
    if not lines or not over:
        return list(lines)
    shapes = _shapes(lines)
    # Only what is near enough to hide any of it: most of a long piece is not.
    close = shapely.STRtree(_shapes(over)).query(shapes, predicate="dwithin", distance=_MITRE * near)[1]
    zone = shapely.union_all(_broad([over[index] for index in sorted(set(close))], near))
    left = shapely.difference(shapes, zone)
    return [line for one in left for line in _lines(one) if length(line) > _LEAST * near]


def without_doubles(lines: Sequence[Line], near: float) -> list[Line]:
    """Return the lines without those that lie wholly along a longer one."""
    if len(lines) < 2:
        return list(lines)
    shapes = _shapes(lines)
    long = shapely.length(shapes)
    tree = shapely.STRtree(shapes)
    dropped = {
        int(under)
        for over, under in zip(*tree.query(_broad(lines, near), predicate="covers"), strict=True)
        if (long[over], -over) > (long[under], -under)
    }
    return [line for index, line in enumerate(lines) if index not in dropped]


def joined(lines: Sequence[Line]) -> list[Line]:
    """Return lines that meet end to end as one, unless more than two meet there."""
    even = [[_even(line[0]), *line[1:-1], _even(line[-1])] for line in lines]
    kept = [line for line in even if any(spot != line[0] for spot in line)]
    if not kept:
        return []
    whole: BaseGeometry = shapely.MultiLineString(kept)
    return _lines(shapely.line_merge(whole))


def _even(spot: Spot) -> Spot:
    return round(spot[0] * _EVEN) / _EVEN, round(spot[1] * _EVEN) / _EVEN


def _shapes(lines: Sequence[Line]) -> list[BaseGeometry]:
    return [shapely.LineString(one) for one in lines]


def _broad(lines: Sequence[Line], near: float) -> list[BaseGeometry]:
    return list(shapely.buffer(_shapes(lines), near, quad_segs=1, cap_style="square", join_style="mitre"))


def _lines(shape: BaseGeometry) -> list[Line]:
    parts = getattr(shape, "geoms", (shape,))
    return [
        [(x, y) for x, y in one.coords] for one in parts if one.geom_type == "LineString" and not one.is_empty
    ]


def length(line: Line) -> float:
    """Return how long a line is."""
    return sum(math.dist(*one) for one in pairwise(line))
