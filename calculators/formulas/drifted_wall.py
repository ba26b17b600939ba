"""Walls round a hole that a drift opens further."""

from __future__ import annotations

from math import pi, sqrt

from calculators.figure import Figure
from calculators.figures.holes import drifted
from calculators.formula import Answer, Cite, Formula, GivenError, given

ROUND, SHARP = pi, 4.0  # what the corners of a hole's edge add to its ring: rounded by a wall, or mitred


def ring_area(perimeter: float, corners: float, wall: float) -> float:
    """Return the area [mm²] of a ring of an even wall [mm] round a hole of a perimeter [mm].

    `corners` is ROUND for a hole round at its ends, SHARP for one with corners.
    """
    return perimeter * wall + corners * wall * wall


def wall_of(perimeter: float, corners: float, area: float) -> float:
    """Return the wall [mm] of a ring of an area [mm²] round a hole; the inverse of `ring_area`."""
    return (sqrt(perimeter * perimeter + 4 * corners * area) - perimeter) / (2 * corners)


def middle_line(perimeter: float, corners: float, wall: float) -> float:
    """Return the length [mm] of the line in the middle of a ring's wall."""
    return perimeter + corners * wall


class DriftedWall(Formula):
    """Wall round a round hole after it is drifted larger: the ring of metal round it keeps its area.

        b₁² + d₁ b₁ = b₀ (d₀ + b₀)

    Args:
        before: diameter of the hole before [mm]
        wall: wall on each side before [mm]
        after: diameter it is drifted to [mm]

    Returns:
        Wall after [mm], the width over the hole, and by what share the walls stretch.

    Valid for an even wall whose thickness is kept. The metal above and below the hole counts as part of the
    ring; by geometry, no source.

    Raises:
        ValueError: a size is zero or less, or the hole does not get larger.

    >>> result = DriftedWall(before=20, wall=12, after=24).answer()
    >>> round(result.value, 2), round(result["width over the hole"].value, 1)
    (10.98, 46.0)
    """

    id = "drifted_wall"
    title = "Drifting: what becomes of the walls"
    source = Cite("DERIVED")
    group = "holes"
    words = ("drift", "eye", "open a hole", "wall beside a hole")
    result = "Wall after"
    operations = ("drift",)
    any_unit = True

    before: float = given("Hole before", "mm", above=0, example=("20", "3/4"))
    wall: float = given("Wall before", "mm", above=0, example=("12", "1/2"))
    after: float = given("Hole after", "mm", above=0, example=("24", "1"))

    def answer(self) -> Answer:
        """Return the wall [mm] after drifting."""
        if self.after <= self.before:
            raise GivenError(
                f"A drift opens a hole: {self.after:g} mm is no more than {self.before:g} mm.", "after"
            )
        small, large = pi * self.before, pi * self.after
        wall = wall_of(large, ROUND, ring_area(small, ROUND, self.wall))
        stretch = middle_line(large, ROUND, wall) / middle_line(small, ROUND, self.wall) - 1
        ring = f"{self.wall:g} × ({self.before:g} + {self.wall:g})"
        further = (
            Answer(self.after + 2 * wall, "mm", f"{self.after:g} + 2 × {wall:.4g}", "width over the hole"),
            Answer(
                100 * stretch,
                "%",
                f"({self.after:g} + {wall:.4g}) / ({self.before:g} + {self.wall:g}) - 1",
                "walls stretch by",
            ),
        )
        working = f"(√({self.after:g}² + 4 × {ring}) - {self.after:g}) / 2"
        return Answer(wall, "mm", working, further=further)

    def figure(self) -> Figure:
        """Return the hole before and after."""
        return drifted(self.before, self.wall, self.after, self.answer().value)
