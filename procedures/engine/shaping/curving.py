"""Laying metal along a curve: which way it turns, how much bar a bend takes, what follows the curve."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Literal

from calculators.formulas.bend_arc import CENTRE_LINE, arc_length
from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc, Path, Plane, Straight
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH, Segment

Turn = Literal["up", "down", "left", "right"]
TURNS = {
    "up": "up, the easy way",
    "down": "down, the easy way",
    "left": "left, on edge",
    "right": "right, on edge",
}
_SAID = {"up": "up", "down": "down", "left": "to the left, on edge", "right": "to the right, on edge"}
Meaning = Literal["arc_start", "arc_middle", "outside_corner", "arc_end"]
_CLOSED = 270.0  # degrees of turn, from which a bend holds what is put through it: our judgement
_ROUNDS = 60  # of settling where the bar tapers; even bar takes two


def plane_of(turn: str) -> Plane:
    """Return the plane of a turn: up and down go through the thickness, left and right on edge."""
    return "easy" if turn in ("up", "down") else "hard"


def sense_of(turn: str) -> int:
    """Return +1 for up and left, -1 for down and right."""
    return 1 if turn in ("up", "left") else -1


def turn_words(turn: str, mirrored: bool = False) -> str:
    """Return a turn as it is said in a sentence: "up", "to the left, on edge"."""
    return _SAID[turn] + (" and every second one the other way" if mirrored else "")


def depth(section: Section, plane: Plane) -> float:
    """Return the size [mm] of a section in the plane of a bend."""
    return section.thickness if plane == "easy" else section.width


def neutral_depth(section: Section, plane: Plane, sense: int, k: float = CENTRE_LINE) -> float:
    """Return how far from the inside of a bend [mm] the line lies that keeps its length.

    At the usual k of ½ it is the centroid, which the volume fixes; another k moves it in proportion.
    """
    from_inside = 0.5
    if plane == "easy":
        from_inside = 1 - section.centroid_share if sense > 0 else section.centroid_share
    return k / CENTRE_LINE * from_inside * depth(section, plane)


def eye_at(branch: Branch, at: float) -> float | None:
    """Return how wide inside [mm] the eye is that a bar is bent to at a place; None where there is none."""
    low = 0.0
    for arcs, run in groupby(branch.segments, key=_curl):
        curled = list(run)
        high = low + sum(one.length for one in curled)
        turned = sum(one.path.angle for one in curled if isinstance(one.path, Arc))
        if arcs is not None and turned >= _CLOSED and low - TOUCH <= at <= high + TOUCH:
            widest = max(one.path.radius for one in curled if isinstance(one.path, Arc))
            return 2 * widest - depth(branch.section_at((low + high) / 2), arcs[0])
        low = high
    return None


def _curl(segment: Segment) -> tuple[Plane, int] | None:
    """Return how a segment is bent round: in which plane and which way; None for one that is not."""
    return (segment.path.plane, segment.path.turn) if isinstance(segment.path, Arc) else None


def is_straight(branch: Branch, span: Span) -> bool:
    """Whether the centreline of a range is straight; the bar may be twisted there."""
    return all(isinstance(one.path, Straight) for one in branch.segments_between(span.low, span.high))


def laid(run: Sequence[Segment], path: Path) -> tuple[Segment, ...]:
    """Return a run of segments that follow one curve from end to end; lengths stay."""
    rest, left = path, sum(one.length for one in run)
    curved = []
    for segment in run[:-1]:
        own, rest = rest.cut(left, segment.length)
        left -= segment.length
        curved.append(replace(segment, path=own))
    return (*curved, replace(run[-1], path=rest)) if run else ()


@dataclass(frozen=True, slots=True)
class Bending:
    """A bend to be made: its angle [deg], inside radius [mm], the side it goes to, and its neutral line."""

    angle: float
    inside_radius: float
    plane: Plane
    sense: int
    k: float = CENTRE_LINE

    def length_at(self, section: Section) -> float:
        """Return the length of bar [mm] that it takes of this section."""
        neutral = neutral_depth(section, self.plane, self.sense, self.k)
        return arc_length(self.angle, self.inside_radius, neutral, 1.0)

    def setback(self, section: Section) -> float:
        """Return how far [mm] the outside corner lies before the beginning of the arc, along the outside.

        Endless for half a turn or more, which has no corner.
        """
        if self.angle >= 180:
            return math.inf
        outside = self.inside_radius + depth(section, self.plane)
        return outside * math.tan(math.radians(self.angle) / 2)

    def span(self, branch: Branch, at: float, meaning: Meaning, *, from_end: bool = False) -> Span:
        """Return the range of a branch that becomes the arc; it may reach beyond the branch.

        `meaning` says which point of the bend lies at the distance `at` [mm] of the straight bar. The outside
        corner is as far from the start of the branch as `at`, or as far from its end when `from_end`. Where
        the bar tapers, the section in the middle of the arc counts.
        """
        middle = at
        for _ in range(_ROUNDS):
            section = branch.section_at(min(max(middle, 0.0), branch.length))
            length = self.length_at(section)
            low = self._low(at, meaning, length, section, from_end)
            if abs(low + length / 2 - middle) < TOUCH / 1000:
                break
            middle = low + length / 2
        return Span(branch.name, low, low + length)

    def _low(self, at: float, meaning: Meaning, length: float, section: Section, from_end: bool) -> float:
        if meaning == "arc_start":
            return at
        if meaning == "arc_end":
            return at - length
        if meaning == "arc_middle":
            return at - length / 2
        setback = self.setback(section)
        return at + setback - length if from_end else at - setback

    def path(self, length: float) -> Arc:
        """Return the arc whose centreline is as long as the bar [mm] laid into it."""
        return Arc(length / math.radians(self.angle), self.angle, self.plane, self.sense)
