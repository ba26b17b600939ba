"""The two views of a piece: from above (plan: length × width) and from the front (edge: length × thickness).

Both have X to the right. The edge view stands over the plan, as first-angle projection has them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from calculators.sections import Section
from procedures.engine.pieces.axes import Axes, Vector

Spot = tuple[float, float]  # in a view [mm], or on the sheet in its units
Line = list[Spot]


@dataclass(frozen=True)
class View:
    """One direction of looking: which coordinate goes up the sheet, and which comes toward the reader."""

    name: Literal["plan", "edge"]
    title: str
    upward: int
    toward: int
    sense: int
    plane: Literal["easy", "hard"]  # the way of bending that it shows as a curve

    def flat(self, place: Vector) -> Spot:
        """Return where a place lies in the view [mm]."""
        return place[0], place[self.upward]

    def depth(self, place: Vector) -> float:
        """Return how near to the reader a place lies [mm]; more is nearer."""
        return self.sense * place[self.toward]


PLAN = View("plan", "Plan", upward=1, toward=2, sense=1, plane="hard")
EDGE = View("edge", "Edge", upward=2, toward=1, sense=-1, plane="easy")
VIEWS = (EDGE, PLAN)
VIEW: dict[str, View] = {one.name: one for one in VIEWS}


@lru_cache(maxsize=2048)
def outline_of(section: Section) -> tuple[Spot, ...]:
    """Return the corners of a section about its centre [mm], arcs as chords of 15°."""
    return tuple(section.outline(6))


@lru_cache(maxsize=8192)
def _reach(section: Section, y: float, z: float) -> tuple[float, float]:
    spread = [y * left + z * up for left, up in outline_of(section)]
    return min(spread), max(spread)


def reach(section: Section, axes: Axes, view: View, across: Spot) -> tuple[float, float]:
    """Return how far a section reaches [mm] along the unit vector `across` of a view: least and most."""
    y = axes.left[0] * across[0] + axes.left[view.upward] * across[1]
    z = axes.up[0] * across[0] + axes.up[view.upward] * across[1]
    return _reach(section, round(y, 5), round(z, 5))


def half_depth(section: Section, axes: Axes, view: View) -> float:
    """Return about how far a section reaches towards the reader from its centre [mm]."""
    return abs(axes.left[view.toward]) * section.width / 2 + abs(axes.up[view.toward]) * section.thickness / 2


def heading(axes: Axes, view: View) -> tuple[Spot, float]:
    """Return the direction of the bar in a view as a unit vector, and how much of it is not foreshortened."""
    x, y = axes.ahead[0], axes.ahead[view.upward]
    seen = math.hypot(x, y)
    return ((x / seen, y / seen), seen) if seen > 1e-9 else ((1.0, 0.0), 0.0)


def projected(section: Section, axes: Axes, view: View) -> Line:
    """Return the outline of a section where it stands, as seen in a view."""
    return [view.flat(axes.point(0.0, y, z)) for y, z in outline_of(section)]


def left_of(direction: Spot) -> Spot:
    """Return the unit vector to the left of a direction on the sheet."""
    return (-direction[1], direction[0])


def is_clockwise(spots: Line) -> bool:
    """Whether a closed line runs clockwise on the sheet, so that a hole running the other way stays open."""
    area = sum(
        one[0] * two[1] - two[0] * one[1] for one, two in zip(spots, [*spots[1:], spots[0]], strict=True)
    )
    return area > 0


def hull(spots: Line) -> Line:
    """Return the convex hull of some spots, counter-clockwise; one or two spots where it has no area."""
    found = sorted(set(spots))
    if len(found) < 3:
        return found
    ring: Line = []
    for side in (found, found[::-1]):
        first = len(ring)
        for spot in side:
            while len(ring) > first + 1 and _side_of(ring[-2], ring[-1], spot) <= 1e-12:
                ring.pop()
            ring.append(spot)
        ring.pop()
    return ring


def _side_of(first: Spot, second: Spot, third: Spot) -> float:
    return (second[0] - first[0]) * (third[1] - first[1]) - (second[1] - first[1]) * (third[0] - first[0])
