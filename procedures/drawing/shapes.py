"""Lines and rings as the geometry library has them, and back: many at once costs little more than one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import shapely

from .views import Line

Shapes = Any  # an array of shapes


def line_shapes(lines: Sequence[Line]) -> Shapes:
    """Return lines of two spots or more as shapes."""
    if not lines:
        return np.empty(0, dtype=object)
    spots, owners = _together(lines)
    return shapely.linestrings(spots, indices=owners)


def ring_shapes(rings: Sequence[Line]) -> Shapes:
    """Return rings as areas without fault; one of fewer than three spots as an empty one."""
    made = np.full(len(rings), shapely.Polygon(), dtype=object)
    wide = [index for index, ring in enumerate(rings) if len(ring) > 2]
    if wide:
        spots, owners = _together([rings[index] for index in wide])
        made[wide] = shapely.polygons(shapely.linearrings(spots, indices=owners))
    faulty = ~shapely.is_valid(made)
    made[faulty] = shapely.make_valid(made[faulty])
    return made


def _together(lines: Sequence[Line]) -> tuple[Any, Any]:
    """Return all spots in a row, and the place of the line that each is of."""
    counts = [len(line) for line in lines]
    return np.array([spot for line in lines for spot in line]), np.repeat(np.arange(len(lines)), counts)


def wider(shapes: Shapes, by: float) -> Shapes:
    """Return areas made wider all round, or narrower; their corners stay sharp."""
    return shapely.buffer(shapes, by, join_style="mitre")


def lines_in(shapes: Shapes, least: float) -> Iterator[tuple[int, Line]]:
    """Yield (the place of the shape, line) for all lines longer than `least` in the shapes."""
    parts, owners = shapely.get_parts(shapes, return_index=True)
    kept = (shapely.get_dimensions(parts) == 1) & (shapely.length(parts) > least)
    parts, owners = parts[kept], owners[kept]
    spots = list(map(tuple, shapely.get_coordinates(parts).tolist()))
    end = 0
    for owner, count in zip(owners.tolist(), shapely.get_num_coordinates(parts).tolist(), strict=True):
        begin, end = end, end + count
        yield owner, spots[begin:end]


def zones(owners: Any, others: Any, shapes: Shapes) -> tuple[Any, Shapes]:
    """Return (owners, each once; for each, all shapes named beside it as one), of pairs sorted by owner."""
    found, first, counts = np.unique(owners, return_index=True, return_counts=True)
    table = np.full((len(found), counts.max(initial=0)), None, dtype=object)
    rows = np.repeat(np.arange(len(found)), counts)
    table[rows, np.arange(len(owners)) - first[rows]] = shapes[others]
    return found, shapely.union_all(table, axis=1)
