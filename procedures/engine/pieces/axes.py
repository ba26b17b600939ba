"""Where the bar lies at one place in space: an origin and three unit vectors. Lengths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .path import Plane

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Axes:
    """A place on a centreline with the way the bar lies there.

    `ahead`, `left` and `up` are unit vectors along the bar, across its width and through its thickness.
    They are left-handed on a branch that hangs on its parent's start, whose left stays the piece's left.
    """

    origin: Vector = (0.0, 0.0, 0.0)
    ahead: Vector = (1.0, 0.0, 0.0)
    left: Vector = (0.0, 1.0, 0.0)
    up: Vector = (0.0, 0.0, 1.0)

    def point(self, along: float, left: float, up: float) -> Vector:
        """Return the point [mm] that lies so far along, to the left of and above this place."""
        o, a, w, n = self.origin, self.ahead, self.left, self.up
        return (
            o[0] + along * a[0] + left * w[0] + up * n[0],
            o[1] + along * a[1] + left * w[1] + up * n[1],
            o[2] + along * a[2] + left * w[2] + up * n[2],
        )

    def moved(self, along: float, left: float = 0.0, up: float = 0.0) -> Axes:
        """Return the same axes at another place."""
        return Axes(self.point(along, left, up), self.ahead, self.left, self.up)

    def turned(self, radians: float, plane: Plane) -> Axes:
        """Return the axes turned on the spot: `ahead` towards `up` (easy) or towards `left` (hard)."""
        if not radians:
            return self
        if plane == "easy":
            ahead, up = _rotated(self.ahead, self.up, radians)
            return Axes(self.origin, ahead, self.left, up)
        ahead, left = _rotated(self.ahead, self.left, radians)
        return Axes(self.origin, ahead, left, self.up)

    def rolled(self, radians: float) -> Axes:
        """Return the axes turned about `ahead` by the right-hand rule, as a twist turns the bar."""
        if not radians:
            return self
        sense = 1 if dot(_cross(self.ahead, self.left), self.up) > 0 else -1
        left, up = _rotated(self.left, self.up, sense * radians)
        return Axes(self.origin, self.ahead, left, up)

    def backwards(self) -> Axes:
        """Return the axes looking out of a branch's start; left and up stay."""
        return Axes(self.origin, _times(self.ahead, -1), self.left, self.up)


def _rotated(first: Vector, second: Vector, radians: float) -> tuple[Vector, Vector]:
    """Return two perpendicular vectors turned in their plane, the first towards the second."""
    cos, sin = math.cos(radians), math.sin(radians)
    return (
        (
            cos * first[0] + sin * second[0],
            cos * first[1] + sin * second[1],
            cos * first[2] + sin * second[2],
        ),
        (
            cos * second[0] - sin * first[0],
            cos * second[1] - sin * first[1],
            cos * second[2] - sin * first[2],
        ),
    )


def dot(first: Vector, second: Vector) -> float:
    """Return the scalar product of two vectors."""
    return first[0] * second[0] + first[1] * second[1] + first[2] * second[2]


def _cross(first: Vector, second: Vector) -> Vector:
    return (
        first[1] * second[2] - first[2] * second[1],
        first[2] * second[0] - first[0] * second[2],
        first[0] * second[1] - first[1] * second[0],
    )


def _times(one: Vector, factor: float) -> Vector:
    return (one[0] * factor, one[1] * factor, one[2] * factor)
