"""The few convex shapes that every cross-section is a sum of, and their fixed numbers.

A section is a Minkowski sum g₀·K₀ + g₁·K₁ + … with g ≥ 0 of the unit shapes below. Then

    area = gᵀ Q g        mixed area = gᵀ Q h        perimeter, width and thickness are linear in g

with Q the matrix of the mixed areas of the unit shapes, M(K, L) = ½ Σ h_K(n) ℓ over the edges of L (h the
support function of K in the direction of the edge's outward normal n, ℓ the edge's length). Derived here;
tested against polygons.

The unit shapes, y across the width and z through the thickness:
    WIDTH      an edge of length 1 along y            THICKNESS  an edge of length 1 along z
    DIAMOND    a square on its corner, half diagonal 1 (so a weight of c is a chamfer of c × c)
    DISC       radius 1 (a corner radius)             HEXAGON    1 across flats, lying on a flat
    HALF_DISC  diameter 1, flat side down             TRIANGLE   equilateral, side 1, base down
    BORE       a round hole of radius 1: subtracted, and not part of the outside
"""

from __future__ import annotations

from math import pi, sqrt

WIDTH, THICKNESS, DIAMOND, DISC, HEXAGON, HALF_DISC, TRIANGLE, BORE = range(8)
COUNT = 8
NAMES = ("width", "thickness", "diamond", "disc", "hexagon", "half_disc", "triangle", "bore")

Weights = tuple[float, float, float, float, float, float, float, float]
NOTHING: Weights = (0.0,) * 8

_R2, _R3 = sqrt(2), sqrt(3)

# Rows and columns in the order of NAMES.
MIXED_AREAS: tuple[Weights, ...] = (
    (0, 1 / 2, 1, 1, 1 / 2, 1 / 4, _R3 / 4, 0),
    (1 / 2, 0, 1, 1, 1 / _R3, 1 / 2, 1 / 2, 0),
    (1, 1, 2, 2 * _R2, 1 + 1 / _R3, (1 + _R2) / 2, (1 + _R3) / 2, 0),
    (1, 1, 2 * _R2, pi, _R3, 1 / 2 + pi / 4, 3 / 2, 0),
    (1 / 2, 1 / _R3, 1 + 1 / _R3, _R3, _R3 / 2, (1 + _R3) / 4, 3 / 4, 0),
    (1 / 4, 1 / 2, (1 + _R2) / 2, 1 / 2 + pi / 4, (1 + _R3) / 4, pi / 8, 1 / 2, 0),
    (_R3 / 4, 1 / 2, (1 + _R3) / 2, 3 / 2, 3 / 4, 1 / 2, _R3 / 4, 0),
    (0, 0, 0, 0, 0, 0, 0, -pi),
)
PERIMETERS: Weights = (2, 2, 4 * _R2, 2 * pi, 2 * _R3, 1 + pi / 2, 3, 0)
WIDTHS: Weights = (1, 0, 2, 2, 2 / _R3, 1, 1, 0)
THICKNESSES: Weights = (0, 1, 2, 2, 1, 1 / 2, _R3 / 2, 0)


def mixed_area(first: Weights, second: Weights) -> float:
    """Return the mixed area gᵀ Q h [mm²]; of a section with itself, its area."""
    total = 0.0
    for weight, row in zip(first, MIXED_AREAS, strict=True):
        if weight:
            for other, unit in zip(second, row, strict=True):
                if other:
                    total += weight * other * unit
    return total


def along(weights: Weights, units: Weights) -> float:
    """Return the linear measure Σ gᵢ·uᵢ [mm]."""
    total = 0.0
    for weight, unit in zip(weights, units, strict=True):
        if weight:
            total += weight * unit
    return total
