"""Outlines of sections as closed polygons, for drawing them and for what has no closed form."""

from __future__ import annotations

from math import cos, pi, sin, sqrt

from calculators.generators import (
    BORE,
    DIAMOND,
    DISC,
    HALF_DISC,
    HEXAGON,
    THICKNESS,
    TRIANGLE,
    WIDTH,
    Weights,
)

Point = tuple[float, float]

# Each straight-sided unit shape as its edges, counter-clockwise from the bottom: direction [deg] and length.
_EDGES: dict[int, tuple[tuple[float, float], ...]] = {
    WIDTH: ((0, 1), (180, 1)),
    THICKNESS: ((90, 1), (270, 1)),
    DIAMOND: tuple((angle, sqrt(2)) for angle in (45, 135, 225, 315)),
    HEXAGON: tuple((angle, 1 / sqrt(3)) for angle in range(0, 360, 60)),
    TRIANGLE: ((0, 1), (120, 1), (240, 1)),
}


def outline(weights: Weights, points_per_arc: int) -> list[Point]:
    """Return the outside as a counter-clockwise polygon (y, z) [mm] centred on the centroid.

    An arc is a quarter turn; its points lie on the true curve. A Minkowski sum's outline is the edges of its
    shapes laid end to end in the order of their directions.
    """
    if points_per_arc < 1:
        raise ValueError(f"An arc needs at least one chord; {points_per_arc} is too few.")
    edges = _edges(weights, points_per_arc)
    y = z = 0.0
    corners = [(y, z)]
    for angle in sorted(edges):
        y += edges[angle] * cos(angle * pi / 180)
        z += edges[angle] * sin(angle * pi / 180)
        corners.append((y, z))
    if len(corners) > 1:
        corners.pop()  # the last edge comes back to the first corner
    centre_y, centre_z = centroid(corners)
    return [(y - centre_y, z - centre_z) for y, z in corners]


def bore_outline(weights: Weights, points_per_arc: int) -> list[Point]:
    """Return the bore of a tube as a clockwise polygon [mm] about the same centre, or an empty list."""
    radius = weights[BORE]
    if radius <= 0:
        return []
    count = 4 * points_per_arc
    return [(radius * cos(2 * pi * i / count), -radius * sin(2 * pi * i / count)) for i in range(count)]


def centroid(corners: list[Point]) -> Point:
    """Return the centre of area of a polygon, or the mean of its corners when it has no area."""
    doubled = moment_y = moment_z = 0.0
    y0, z0 = corners[-1]
    for y1, z1 in corners:
        cross = y0 * z1 - y1 * z0
        doubled += cross
        moment_y += (y0 + y1) * cross
        moment_z += (z0 + z1) * cross
        y0, z0 = y1, z1
    if doubled <= 0:
        return sum(y for y, _ in corners) / len(corners), sum(z for _, z in corners) / len(corners)
    return moment_y / (3 * doubled), moment_z / (3 * doubled)


def _edges(weights: Weights, points_per_arc: int) -> dict[float, float]:
    edges: dict[float, float] = {}

    def lay(angle: float, length: float) -> None:
        if length > 0:
            edges[angle] = edges.get(angle, 0.0) + length

    for shape, sides in _EDGES.items():
        for angle, length in sides:
            lay(angle, length * weights[shape])
    lay(0, weights[HALF_DISC])
    step = 90 / points_per_arc
    chord = 2 * sin(step * pi / 360)
    for i in range(4 * points_per_arc):
        angle = (i + 0.5) * step
        upper_half = 90 < angle < 270  # an edge heading that way has its outside up
        lay(angle, chord * (weights[DISC] + (weights[HALF_DISC] / 2 if upper_half else 0.0)))
    return edges
