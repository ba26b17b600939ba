"""Grooves and necks pressed into a bar: the metal they drive aside, and the bar that takes them up."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi
from typing import Literal

from calculators.formulas.fuller_groove import depth_squared, depths, groove_area, groove_width
from calculators.sections import Section, taper_volume
from procedures.engine.pieces.branch import Branch, at_share
from procedures.engine.pieces.feature import Feature, Side
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform

Sides = Literal["one", "two", "all"]
Outline = list[tuple[float, float]]
_ROUNDS = 60  # of settling a neck on a bar that tapers; on even bar two do


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove of a depth [mm] and a tool's radius [mm], pressed in from one face, two or all round.

    `face` is "top", "bottom", "left" or "right", `spread` the share of its metal that goes sideways.
    """

    radius: float
    depth: float
    sides: Sides
    face: str
    spread: float = 0.0

    @property
    def width(self) -> float:
        """Its width [mm] along the bar."""
        return groove_width(self.radius, self.depth)

    def through(self, section: Section) -> float:
        """Return how deep the bar is [mm] from the face it is pressed into."""
        return section.thickness if self.face in ("top", "bottom") else section.width

    def left(self, section: Section) -> float:
        """Return how thick the bar stays [mm] where it is deepest; 0 or less where nothing is left."""
        times = 1 if self.sides == "one" else 2
        sizes = [self.through(section)]
        if self.sides == "all":
            sizes = [section.width, section.thickness]
        return min(sizes) - times * self.depth

    def volume(self, section: Section) -> float:
        """Return the metal [mm³] that it drives aside, or lengthwise, out of a bar of this section."""
        area, squared = groove_area(self.radius, self.depth), depth_squared(self.radius, self.depth)
        if section.shape in ("flat", "square"):
            if self.sides == "all":
                return 2 * area * (section.width + section.thickness) - 4 * squared
            across = section.area / self.through(section)
            return area * across * (1 if self.sides == "one" else 2)
        if section.shape == "round" and self.sides == "all":
            return pi * (section.width * area - squared)
        whole = _area(section.outline(64))
        over = depths(self.radius, self.depth)
        return sum(weight * (whole - self._area_left(section, depth)) for depth, weight in over)

    def _area_left(self, section: Section, depth: float) -> float:
        """Return the area [mm²] of a section pressed in so deep [mm] on each side that is worked."""
        outline = section.outline(64)
        for face in self._faces():
            outline = _pressed(outline, face, depth)
        return _area(outline)

    def _faces(self) -> tuple[str, ...]:
        if self.sides == "all":
            return ("top", "bottom", "left", "right")
        if self.sides == "one":
            return (self.face,)
        return ("top", "bottom") if self.face in ("top", "bottom") else ("left", "right")

    def taken(self, branch: Branch, at: float) -> tuple[float, float] | None:
        """Return the range of bar [mm] that it takes up, the metal at `at` in its middle.

        None where the branch holds too little on one side.
        """
        section = branch.section_at(at)
        held = section.area * self.width - (1 - self.spread) * self.volume(section)
        return reach(branch, at, held / 2, held / 2)

    def made(self, piece: Piece, span: Span, at: float, name: str) -> Piece:
        """Return the piece with the groove pressed into the range it takes up, kept as a feature."""
        branch = piece.branch(span.branch)
        section = branch.section_at(at)
        times = self.width / span.length
        old = branch.segments_between(span.low, span.high)
        run = tuple(replace(one, length=one.length * times) for one in old)
        middle = branch.mover(span.low, span.high, run)(at)
        piece = piece.reshaped(span, *run)
        gone = sum(one.volume for one in run) - sum(one.volume for one in old)
        across = section.width if self.face in ("top", "bottom") else section.thickness
        return piece.featured(
            branch.name,
            Feature(
                "groove",
                name,
                middle,
                "rectangle",
                self.width,
                across,
                volume=-gone,
                bulge=self._bulge(section, across),
                face="flat" if self.face in ("top", "bottom") else "edge",
                depth=self.depth,
                side=self._side(),
            ),
        )

    def _bulge(self, section: Section, across: float) -> float:
        """Return how much wider [mm] the bar stands at the groove, in the mean over its width."""
        volume = self.volume(section)
        height = (section.area * self.width - volume) / (self.width * across)
        return self.spread * volume / (self.width * height)

    def _side(self) -> Side:
        sides: dict[str, Side] = {"two": "both", "all": "all", "top": "top", "bottom": "bottom"}
        sides |= {"left": "left", "right": "right"}
        return sides[self.face if self.sides == "one" else self.sides]


@dataclass(frozen=True, slots=True)
class Neck:
    """A neck all round: a `land` mm long of one section between two flanks of a length [mm]."""

    section: Section
    land: float
    flank: float

    def taken(self, branch: Branch, at: float) -> tuple[float, float] | None:
        """Return the range of bar [mm] that becomes the neck whose middle is the metal at `at`.

        None where the branch holds too little on one side.
        """
        low = high = at
        for _ in range(_ROUNDS):
            ends = branch.section_at(low), branch.section_at(high)
            halves = [taper_volume(one, self.section, self.flank) for one in ends]
            halves = [one + self.section.area * self.land / 2 for one in halves]
            found = reach(branch, at, *halves)
            if found is None or found == (low, high):
                return found
            low, high = found
        return low, high

    def through(self, section: Section) -> float:
        """Return the size [mm] of the bar that is necked in."""
        return min(section.width, section.thickness)

    def left(self, section: Section) -> float:
        """Return how thick [mm] the neck is."""
        return min(self.section.width, self.section.thickness)

    def made(self, piece: Piece, span: Span, at: float, name: str) -> Piece:
        """Return the piece with the neck made of the range it takes up; a neck is no feature, and unnamed."""
        return piece.reshaped(span, *self._run(piece.branch(span.branch), span.low, span.high))

    def _run(self, branch: Branch, low: float, high: float) -> tuple[Segment, ...]:
        first, last = branch.sections_between(low, high)
        land = (uniform(self.section, self.land),) if self.land > 0 else ()
        flanks = Segment(first, self.section, self.flank), Segment(self.section, last, self.flank)
        neck = (flanks[0], *land, flanks[1])
        held = branch.volume_between(low, high) / sum(one.volume for one in neck)
        return tuple(Segment(one.start, one.end, one.length * held) for one in neck)  # to the last figure


def reach(branch: Branch, at: float, before: float, after: float) -> tuple[float, float] | None:
    """Return the range with so much volume [mm³] before and after a place; None where there is less."""
    first, last = branch.segments_between(0.0, at), branch.segments_between(at, branch.length)
    there = sum(one.volume for one in first), sum(one.volume for one in last)
    if before > there[0] or after > there[1] or min(before, after) <= 0:
        return None
    return at_share(first, 1 - before / there[0]), at + at_share(last, after / there[1])


def _pressed(outline: Outline, face: str, depth: float) -> Outline:
    """Return what is left of an outline, in order round it, pressed flat so deep from a face."""
    axis, sign = (1 if face in ("top", "bottom") else 0), (1 if face in ("top", "left") else -1)
    limit = max((sign * one[axis] for one in outline), default=0.0) - depth
    left: Outline = []
    for one, two in zip(outline, outline[1:] + outline[:1], strict=True):
        over_one, over_two = sign * one[axis] - limit, sign * two[axis] - limit
        if over_one <= 0:
            left.append(one)
        if over_one * over_two < 0:
            share = over_one / (over_one - over_two)
            left.append((one[0] + share * (two[0] - one[0]), one[1] + share * (two[1] - one[1])))
    return left


def _area(outline: Outline) -> float:
    twice = sum(
        one[0] * two[1] - two[0] * one[1] for one, two in zip(outline, outline[1:] + outline[:1], strict=True)
    )
    return abs(twice) / 2
