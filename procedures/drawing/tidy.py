"""Lines of a crowded view made fewer: what lies under another line is left out, what meets is one line.

All on the sheet, where lines nearer to each other than the pencil is broad cannot be told apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from .shapes import Shapes, line_shapes, lines_in
from .views import Line, Spot

_EVEN = 20  # parts of a unit that ends are rounded to before they are joined
_MITRE = 5.0  # times as far as its sides are from a line, the corners of what is drawn round it reach at most
_LEAST = 2.0  # pencils: what is left of a line that is shorter is left out


def not_under(lines: Sequence[Line], over: Sequence[Line], near: float) -> list[Line]:
    """Return what of the lines is seen beside others, which hide all that is nearer to them than `near`."""
    if not lines or not over:
        return list(lines)
    shapes = line_shapes(lines)
    # Only what is near enough to hide any of it: most of a long piece is not.
    tree = shapely.STRtree(line_shapes(over))
    under, above = tree.query(shapes, predicate="dwithin", distance=_MITRE * near)
    hiding, which = np.unique(above, return_inverse=True)
    zone = _broad(line_shapes([over[index] for index in hiding]), near)[which]
    turn = np.arange(len(under)) - np.searchsorted(under, under)  # each line is cut by one zone at a time
    for now in (turn == index for index in range(turn.max(initial=-1) + 1)):
        shapes[under[now]] = shapely.difference(shapes[under[now]], zone[now])
    return [line for _, line in lines_in(shapes, _LEAST * near)]


def without_doubles(lines: Sequence[Line], near: float) -> list[Line]:
    """Return the lines without those that lie wholly along a longer one."""
    if len(lines) < 2:
        return list(lines)
    shapes = line_shapes(lines)
    long = [one.length for one in shapes]
    tree = shapely.STRtree(shapes)
    dropped = {
        under
        for over, under in tree.query(_broad(shapes, near), predicate="covers").T.tolist()
        if (long[over], -over) > (long[under], -under)
    }
    return [line for index, line in enumerate(lines) if index not in dropped]


def joined(lines: Sequence[Line]) -> list[Line]:
    """Return lines that meet end to end as one, unless more than two meet there."""
    even = [[_even(line[0]), *line[1:-1], _even(line[-1])] for line in lines]
    kept = [line for line in even if any(spot != line[0] for spot in line)]
    if not kept:
        return []
    whole = shapely.line_merge(shapely.multilinestrings(line_shapes(kept)))
    return [line for _, line in lines_in(whole, 0.0)]


def _even(spot: Spot) -> Spot:
    return round(spot[0] * _EVEN) / _EVEN, round(spot[1] * _EVEN) / _EVEN


def _broad(shapes: Shapes, near: float) -> Shapes:
    return shapely.buffer(shapes, near, quad_segs=1, cap_style="square", join_style="mitre")


def length(line: Line) -> float:
    """Return how long a line is."""
    return sum(math.dist(*one) for one in pairwise(line))
