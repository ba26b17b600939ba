"""Outlines of sections that can be joined: all sections of a branch with the same corners in the same order.

A section is a sum of convex shapes, so its outline is their edges laid end to end by direction. Outlines with
the same list of directions have edges that are parallel one to one, and the surface between two of them is
their convex hull exactly; an edge that a section lacks has no length there.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import acos, atan2, ceil, degrees, hypot, pi, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from calculators import outlines
from calculators.generators import BORE, COUNT, DISC, HALF_DISC, NOTHING, Weights

Array = NDArray[np.float64]

CHORD = 0.05  # mm: how far a chord of a round section may lie from the circle
_FEWEST, _MOST = 6, 16  # chords in a quarter turn
_FLAT = 1e-12  # mm²: a section of less area is an edge or a point


class Contours:
    """The outlines of sections made of some generating shapes.

    `shapes` are indices of generators, `radius` the largest of a round shape [mm], and `parts` into how many
    the straight edges are cut where the surface between two outlines is not flat. Where few corners are
    wanted a chord may lie `coarse` times as far from its circle as it usually may.
    """

    def __init__(self, shapes: Collection[int], radius: float, parts: int = 1, coarse: float = 1.0) -> None:
        quarter = chords_of(radius, coarse)
        rows: dict[float, list[float]] = {}
        straight: set[float] = set()
        for shape in sorted(shapes):
            if shape == BORE:
                shape = DISC
            elif shape not in (DISC, HALF_DISC):
                straight |= set(_edges(shape, quarter))
            for angle, length in _edges(shape, quarter).items():
                rows.setdefault(angle, [0.0] * COUNT)[shape] = length
        angles = sorted(rows)
        times = [parts if angle in straight else 1 for angle in angles]
        turns = np.radians(np.repeat(np.array(angles), times))
        table = np.array([rows[angle] for angle in angles]) / np.array(times)[:, None]
        self.ways = np.stack([np.cos(turns), np.sin(turns)], axis=1)
        self.normals = np.stack([self.ways[:, 1], -self.ways[:, 0]], axis=1)
        self._table = np.repeat(table, times, axis=0).T
        # Chords lie inside their circle: made so much longer, the polygon has its area.
        corners = 4 * quarter
        self._rounder = sqrt(pi / (corners / 2 * sin(2 * pi / corners)))

    @property
    def count(self) -> int:
        """How many corners each outline has."""
        return len(self.ways)

    def of(self, sections: Sequence[Weights]) -> Array:
        """Return the outside of sections, counter-clockwise about their centroids: (sections, corners, 2)."""
        weights = np.array(sections, dtype=np.float64)
        weights[:, [DISC, HALF_DISC]] *= self._rounder
        weights[:, BORE] = 0.0
        return _centred(self._laid(weights))

    def bores_of(self, sections: Sequence[Weights]) -> Array:
        """Return the bores of tubes as outlines of the same corners; a point where there is none."""
        weights = np.zeros((len(sections), COUNT))
        weights[:, DISC] = np.array([one[BORE] for one in sections]) * self._rounder
        return _centred(self._laid(weights))

    def _laid(self, weights: Array) -> Array:
        steps = (weights @ self._table)[:, :, None] * self.ways[None, :, :]
        corners = np.cumsum(steps, axis=1)
        return np.concatenate([np.zeros((len(weights), 1, 2)), corners[:, :-1]], axis=1)


def chords_of(radius: float, coarse: float = 1.0) -> int:
    """Return how many chords a quarter turn of this radius [mm] needs."""
    chord, fewest = CHORD * coarse, max(round(_FEWEST / coarse), 2)
    if radius <= chord:
        return fewest
    return min(max(ceil(pi / acos(1 - chord / radius) / 4), fewest), _MOST)


def _edges(shape: int, quarter: int) -> dict[float, float]:
    """Return the edges of a unit shape: direction [deg] to length."""
    unit = list(NOTHING)
    unit[shape] = 1.0
    w = unit
    corners = outlines.outline((w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7]), quarter)
    edges: dict[float, float] = {}
    for (y0, z0), (y1, z1) in zip(corners, corners[1:] + corners[:1], strict=True):
        angle = round(degrees(atan2(z1 - z0, y1 - y0)) % 360, 6) % 360
        edges[angle] = edges.get(angle, 0.0) + hypot(y1 - y0, z1 - z0)
    return edges


def _centred(corners: Array) -> Array:
    """Return outlines moved so that each has its centroid, or the middle of an edge, at zero."""
    following = np.roll(corners, -1, axis=1)
    cross = corners[:, :, 0] * following[:, :, 1] - following[:, :, 0] * corners[:, :, 1]
    doubled = cross.sum(axis=1)
    moments = ((corners + following) * cross[:, :, None]).sum(axis=1)
    solid = doubled > _FLAT
    middles = (corners.min(axis=1) + corners.max(axis=1)) / 2
    centres = np.where(solid[:, None], moments / (3 * np.where(solid, doubled, 1.0))[:, None], middles)
    moved: Array = corners - centres[:, None, :]
    return moved
