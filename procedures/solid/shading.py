"""Which way a surface faces at each corner: smooth round a bar, sharp at its edges."""

from __future__ import annotations

from math import cos, radians

import numpy as np

from .contours import Array
from .mesh import Faces

_SHARP = cos(radians(35))  # faces that meet at more than this show an edge
_SLIVER = 1e-9  # mm²: twice the area of a triangle that has none
_FINE = 3  # decimals of a direction: corners that face the same way are one


def shaded(points: Array, faces: Faces) -> tuple[Array, Array, Faces]:
    """Return points, their directions and the faces between them, each corner split at sharp edges.

    A corner faces the way its own triangle and those that meet it smoothly there face, weighted by area.
    """
    crossed = np.cross(points[faces[:, 1]] - points[faces[:, 0]], points[faces[:, 2]] - points[faces[:, 0]])
    size = np.linalg.norm(crossed, axis=1)
    facing = crossed / np.where(size > _SLIVER, size, 1.0)[:, None]
    corners = faces.reshape(-1)
    order = np.argsort(corners, kind="stable")
    counts = np.bincount(corners, minlength=len(points))
    starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
    # Every pair of triangles that share a corner, by the place of that corner in the list of each.
    times = counts[corners]
    mine = np.repeat(np.arange(len(corners)), times)
    offset = np.arange(len(mine)) - np.repeat(np.cumsum(times) - times, times)
    theirs = order[np.repeat(starts[corners], times) + offset]
    smooth = np.einsum("ij,ij->i", facing[mine // 3], facing[theirs // 3]) > _SHARP
    smooth |= (size <= _SLIVER)[mine // 3]  # a triangle without area faces as those about it
    ways = np.zeros((len(corners), 3))
    np.add.at(ways, mine[smooth], crossed[theirs[smooth] // 3])
    long = np.linalg.norm(ways, axis=1)
    ways[long <= _SLIVER], long[long <= _SLIVER] = (0.0, 0.0, 1.0), 1.0
    ways /= long[:, None]
    keys = np.column_stack([corners, np.round(ways, _FINE) * 10**_FINE]).astype(np.int64)
    _, first, inverse = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    return points[corners[first]], ways[first], inverse.reshape(-1, 3)
