"""Points along curves, for the other figures."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin

from calculators.figure import Spot


def arc(centre: Spot, radius: float, start: float, stop: float, parts: int = 48) -> tuple[Spot, ...]:
    """Return spots along an arc between two angles [rad], both ends included."""
    return spiral(centre, lambda _: radius, start, stop, parts)


def circle(centre: Spot, radius: float) -> tuple[Spot, ...]:
    """Return spots round a circle, for a closed stroke."""
    return arc(centre, radius, 0.0, 2 * pi)[:-1]


def spiral(
    centre: Spot, radius: Callable[[float], float], start: float, stop: float, parts: int = 48
) -> tuple[Spot, ...]:
    """Return spots along a curve whose radius follows from the share of the way, 0 to 1."""
    found = []
    for part in range(parts + 1):
        share = part / parts
        angle, far = start + share * (stop - start), radius(share)
        found.append((centre[0] + far * cos(angle), centre[1] + far * sin(angle)))
    return tuple(found)


def box(left: float, low: float, right: float, high: float) -> tuple[Spot, ...]:
    """Return the corners of an upright box."""
    return (left, low), (right, low), (right, high), (left, high)
