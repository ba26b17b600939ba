"""Drift: bring holes that are there to their final size and shape by stretching their walls."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from calculators.formulas.drifted_wall import ROUND, SHARP, middle_line, ring_area, wall_of
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Branch, Feature
from procedures.engine.pieces.feature import Shape
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.pieces.zones import around
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import folded_metal, hollow_metal
from procedures.engine.shaping.hole_making import HoleWork
from procedures.engine.shaping.holes import LONG, SHAPES, Hole
from procedures.engine.sketch import Sketch

_A_HEAT = 0.15  # of the walls' length that they stretch in one heat: from memory
_LEAST_WALL = 3.0  # mm: from memory


@dataclass(frozen=True, slots=True)
class _Opening:
    """A hole before and after the drift, and the bar it is in."""

    was: Feature
    hole: Hole
    section: Section

    @property
    def across(self) -> float:
        """How wide the bar is there [mm], without what the hole made it stand out."""
        return self.hole.across(self.section)

    @property
    def _before(self) -> tuple[float, float, float]:
        """(perimeter, corners, wall) of the hole as it was."""
        old = Hole(self.was.shape, self.was.length, self.was.width, self.was.face)
        return old.perimeter, _corners(old), (self.across + self.was.bulge - self.was.width) / 2

    @property
    def _is_squared(self) -> bool:
        """Whether a round hole gets corners, or one with corners gets round."""
        return self._before[1] != _corners(self.hole)

    @property
    def _grown(self) -> float:
        """How many times its size the outline of the ring gets, which keeps its shape, where that is so."""
        perimeter, corners, wall = self._before
        ring = ring_area(perimeter, corners, wall)
        old = Hole(self.was.shape, self.was.length, self.was.width)
        return math.sqrt((ring + self.hole.area) / (ring + old.area))

    @property
    def wall(self) -> float:
        """The wall on each side when done [mm]: the ring of metal round the hole keeps its area.

        Where a round hole is squared, or the other way about, the ring keeps the outline it has and grows
        all round by what the hole gained.
        """
        perimeter, corners, wall = self._before
        if self._is_squared:
            return ((self.was.width + 2 * wall) * self._grown - self.hole.width) / 2
        return wall_of(self.hole.perimeter, corners, ring_area(perimeter, corners, wall))

    @property
    def wide(self) -> float:
        """The width over the hole when done [mm]."""
        return self.hole.width + 2 * self.wall

    @property
    def stretch(self) -> float:
        """By what share of its length the wall is stretched."""
        perimeter, corners, wall = self._before
        after = middle_line(self.hole.perimeter, corners, self.wall)
        if self._is_squared:  # half way between the hole's edge and the outline
            after = (self.hole.perimeter + (perimeter + 2 * corners * wall) * self._grown) / 2
        return after / middle_line(perimeter, corners, wall) - 1

    @property
    def edge(self) -> float:
        """By what share the edge of the hole gets longer."""
        return self.hole.perimeter / self._before[0] - 1


class Drift(HoleWork):
    """Opens holes further on a drift; no metal is lost, the bar stands out more at the hole."""

    id = "drift"
    title = "Drift to shape"
    family = "cut"
    help = "The walls stretch round the drift and get thinner; their thickness through the bar is kept."
    synonyms = ("open a hole", "size a hole", "ream hot", "drift")
    heat = (950, 1150)
    usual_heats = (2, 1)
    tools = ("oiled drift that tapers slowly, at most 1 in 20", "bolster")
    power_tools = ("the hammer, only with the drift dead in line",)
    helper = "to hold"
    period = "drifted hot"
    modern = "reamed cold"
    safety = (
        "A drift flies when it is struck askew: keep the line behind it clear.",
        "A drift stuck fast is cooled and knocked out from behind, never prised.",
    )

    on: str = declare.branch("On", "The branch, or the group whose every member has these holes.")
    holes: tuple[str, ...] = declare.names("Holes", "By their names.")
    shape: Shape = declare.choice("Shape when done", SHAPES, default="round")
    size: float = declare.length("Size when done", "Diameter, side, or width across the bar.")
    length: float | None = declare.length(
        "Length when done", "Along the bar; for a rectangle or a slot.", required=False
    )

    # -- which holes -----------------------------------------------------------------------------

    def openings(self, piece: Piece) -> list[tuple[Branch, _Opening]]:
        """Return every hole with the branch it is in. Raises Unworkable when one is not there."""
        branches = [piece.branch(name) for name in piece.members(self.on)]
        return [(branch, self._opening(branch, name)) for branch in branches for name in self.holes]

    def _opening(self, branch: Branch, name: str) -> _Opening:
        was = next((one for one in branch.features if one.is_hole and one.name == name), None)
        if was is None:
            have = ", ".join(one.name for one in branch.features if one.is_hole)
            raise Unworkable(
                stop(
                    "drift.no_such_hole",
                    "There is no hole {name} in {branch} at this step.",
                    hint="Holes there: {have}." if have else "It has no holes yet: make one first.",
                    have=have,
                    name=name,
                    branch=branch.said,
                    field="holes",
                    source="geometry",
                )
            )
        length = self.length if self.shape in LONG and self.length is not None else self.size
        return _Opening(was, Hole(self.shape, length, self.size, was.face), branch.section_at(was.at))

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(
            self.reaching(piece, Point(branch.name, one.was.at), one.hole.length / 2)
            for branch, one in self.openings(piece)
        )

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return ()  # the holes are there to be seen

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from self.sizes_given(self.shape, self.size, self.length)
        spans = self.spans(piece)
        for index, (branch, one) in enumerate(self.openings(piece)):
            yield from self._opens(one)
            yield from folded_metal(branch, spans[index])
            yield from hollow_metal(branch, spans[index], "holes")
            yield from self.meeting(piece, spans[index], spans[:index], self.holes)

    def _opens(self, one: _Opening) -> Iterator[Finding]:
        old, new = one.was, one.hole
        smaller = new.width < old.width - TOUCH or new.length < old.length - TOUCH
        if smaller or new.area <= Hole(old.shape, old.length, old.width).area + TOUCH:
            yield stop(
                "drift.does_not_open",
                "A drift of {new:section} does not open {hole}, which is {old:section}.",
                hint="Give it a larger size.",
                new=new.section,
                hole=old.said,
                old=Hole(old.shape, old.length, old.width).section,
                field="size",
                source="geometry",
            )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        openings = self.openings(before)
        _, one = max(openings, key=lambda opening: opening[1].stretch)
        if one.stretch > _A_HEAT:
            heats = math.ceil(math.log1p(one.stretch) / math.log1p(_A_HEAT))
            yield caution(
                "drift.stretches_far",
                "The walls stretch {share:percent}; more than {most:percent} in one heat tears them.",
                hint="Take {heats:count} heats for each hole, or start from a larger one.",
                enough_heats=heats * len(self.holes),
                share=one.stretch,
                most=_A_HEAT,
                heats=heats,
                field="size",
                source="15 % from memory",
            )
        if one.wall < _LEAST_WALL:
            yield caution(
                "drift.thin_wall",
                "The walls come out {wall:size} thick: below {least:size} they burn and tear.",
                hint="Make the hole smaller, or upset the bar there before it is made.",
                wall=one.wall,
                least=_LEAST_WALL,
                field="size",
                source="3 mm from memory",
            )
        if one.was.shape == "round" and self.shape in ("square", "rectangle"):
            yield note(
                "drift.corners",
                "The edge of the hole gets {more:percent} longer, most of it in the corners.",
                hint="Open it round to nearly its size first, then square it.",
                more=one.edge,
                field="shape",
                source="geometry",
            )

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        spans = self.spans(piece)
        for branch, one in self.openings(piece):
            made = replace(
                one.was,
                kind="drilled" if one.was.kind == "drilled" else "drifted",
                shape=one.hole.shape,
                length=one.hole.length,
                width=one.hole.width,
                bulge=one.wide - one.across,
            )
            now = piece.branch(branch.name)
            features = tuple(made if feature.name == made.name else feature for feature in now.features)
            piece = piece.with_branch(replace(now, features=features))
        return piece.noting(*spans)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        _, one = self.openings(before)[0]
        names = listed([_called(name) for name in self.holes])
        return say(
            "Drift {holes} of {on} to {hole:section} with an oiled drift over the bolster, from both faces: "
            "the walls come to {wall:size}.",
            holes=names,
            on=owner_words(before, self.on),
            hole=one.hole.section,
            wall=self._after(after).wall,
        )

    def _after(self, after: Piece) -> _Opening:
        """Return the first hole as it is now: what is said of it is said of the bar as the fire left it."""
        return self.openings(after)[0][1]

    def check(self, before: Piece, after: Piece) -> Sentence:
        one = self._after(after)
        return say(
            "hole {hole:section}, both walls {wall:size}, {wide:size} over it",
            hole=one.hole.section,
            wall=one.wall,
            wide=one.wide,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for branch, one in self.openings(after):
            sketch.highlight(around(branch, one.was.at, one.was.at, one.hole.length / 2))
            sketch.point(Point(branch.name, one.was.at), one.was.name)

    examples = (
        Example(
            "Ø20 with walls of 12 to ø24: walls of 10.98, 46.0 over the hole where it was 44",
            before=bar(Section.flat(44, 10), 300),
            first=(("drill", {"where": [{"on": "bar", "datum": "centre"}], "size": 20}),),
            params={"on": "bar", "holes": ["hole"], "size": 24},
            after=(Result(length=300, worked=24),),
            lost=0,
            says=("both walls 11 mm, 46 mm over it",),
            source="b² + 24 b = 12 × (20 + 12): b = √(144 + 384) - 12 = 10.98; 24 + 2 × 10.98 = 45.96",
        ),
        Example(
            "A punched round hole drifted square: its corners need more edge",
            before=bar(Section.square(25), 300),
            first=(("punch", {"where": [{"on": "bar", "datum": "centre"}], "size": 12}),),
            params={"on": "bar", "holes": ["hole"], "shape": "square", "size": 12},
            after=(Result(length=300, worked=12),),
            lost=0,
            cautions=("drift.corners",),
            says=("29.9 mm over it",),
            source="4 × 12 / (π × 12) = 1.27; the punch left 29.28: √(29.28² + (144 - 36π) × 4/π) = 29.94",
        ),
        Example(
            "Ø12 to ø18 at once stretches the walls by 16 %: two heats",
            before=bar(Section.flat(40, 10), 300),
            first=(("drill", {"where": [{"on": "bar", "datum": "centre"}], "size": 12}),),
            params={"on": "bar", "holes": ["hole"], "size": 18},
            after=(Result(length=300, worked=18),),
            lost=0,
            cautions=("drift.stretches_far",),
            source="b² + 18 b = 14 × (12 + 14): b = 12.10; (18 + 12.10) / (12 + 14) = 1.158",
        ),
        Example(
            "With scale on, the bar round the hole is thinner",
            before=bar(Section.flat(40, 10), 300),
            first=(("punch", {"where": [{"on": "bar", "datum": "centre"}], "size": 14}),),
            params={"on": "bar", "holes": ["hole"], "size": 16},
            heats=1,
            scale=0.05,
            after=(Result(length=300, worked=16, section=Section.flat(39.9, 9.9)),),
            source="40 - 2 × 0.05 and 10 - 2 × 0.05",
        ),
        Example(
            "A drift smaller than the hole is refused",
            before=bar(Section.flat(40, 10), 300),
            first=(("punch", {"where": [{"on": "bar", "datum": "centre"}], "size": 14}),),
            params={"on": "bar", "holes": ["hole"], "size": 12},
            refused=("drift.does_not_open",),
        ),
        Example(
            "A hole that is not there is refused",
            before=bar(Section.flat(40, 10), 300),
            params={"on": "bar", "holes": ["eye"], "size": 12},
            refused=("drift.no_such_hole",),
        ),
    )


def _corners(hole: Hole) -> float:
    """Return what a wall round a hole gains at its corners."""
    return ROUND if hole.shape in ("round", "slot") else SHARP


def _called(name: str) -> str:
    """Return what a hole of a name is called: "hole pin", and not "hole hole 1"."""
    if name == "hole":
        return "the hole"
    return name if "hole" in name.split() else f"hole {name}"
