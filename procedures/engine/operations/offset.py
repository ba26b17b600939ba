"""Offset: move the bar sideways and leave both ends parallel."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calculators.formulas.offset_length import largest_angle, to_say
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import STRAIGHT, Path
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH, Segment
from procedures.engine.place_words import point_words
from procedures.engine.shaping.bending import BendingOperation
from procedures.engine.shaping.checks import bent_metal, pair_alike
from procedures.engine.shaping.curving import (
    TURNS,
    Bending,
    Turn,
    depth,
    laid,
    plane_of,
    sense_of,
    turn_words,
)
from procedures.engine.shaping.offsets import Step, laid_out
from procedures.engine.sketch import Sketch

MEANINGS = {
    "middle": "the middle of the ramp",
    "begins": "where the first bend begins",
    "ends": "where the second bend ends",
}
LEADS = {"middle": 0.5, "begins": 0.0, "ends": 1.0}  # the share of its bar that lies before the point
_WORDS = {"middle": "with the middle of its ramp at", "begins": "beginning at", "ends": "ending at"}


class Offset(BendingOperation):
    """Makes two bends alike, one each way, with a straight ramp between; the section stays."""

    id = "offset"
    title = "Offset"
    family = "bend"
    help = "The middle line of the bar keeps its length; the ends come nearer to each other by what is said."
    synonyms = ("joggle", "set-off", "crank", "jog", "kick")
    heat = (850, 1050)
    usual_heats = (2, 1)
    tools = ("vice or anvil edge", "joggle blocks: two blocks of the step's height", "set hammer")
    power_tools = ("joggle blocks under the dies",)
    helper = "to hold the blocks"
    period = "set hammer over the edge of the anvil"
    modern = "press and jig"
    safety = (
        "Fingers stay out of the blocks: hold them with tongs.",
        "Blocks fly when they are struck askew.",
    )

    where: Position = declare.position("At", "A point of the straight bar.")
    meaning: str = declare.choice("That point is", MEANINGS, default="middle")
    height: float = declare.length("Step", "How far the far end moves sideways.")
    angle: float = declare.angle(
        "Ramp angle", "Between the ramp and the bar.", above=0, most=90, default=45.0
    )
    inside_radius: float = declare.length("Inside radius", "Of both bends.", least=0)
    turn: Turn = declare.choice("Far end goes", TURNS, default="up")
    mirrored: bool = declare.flag("Mirrored", "In a group, every second one goes to the other side.")

    # -- laying out ------------------------------------------------------------------------------

    def bending(self, index: int, *, back: bool = False) -> Bending:
        """Return the first bend, or the second that goes back, of the member of a group with this number."""
        sense = -sense_of(self.turn) if self.mirrored and index % 2 else sense_of(self.turn)
        return Bending(self.angle, self.inside_radius, plane_of(self.turn), -sense if back else sense)

    def step(self, branch: Branch, at: float, index: int = 0) -> Step:
        """Return the offset as it is laid out on a branch. Raises Unworkable where the step is too low."""
        there, back = self.bending(index), self.bending(index, back=True)
        step = laid_out(branch, at, self.height, there, back, LEADS[self.meaning])
        if step.ramp < -TOUCH:
            raise Unworkable(self._too_low(step))
        return step

    def _too_low(self, step: Step) -> Finding:
        most = to_say(largest_angle(self.height, step.radii))
        return stop(
            "offset.too_low",
            "Two bends of {angle:angle} on this radius make a step of {least:length} by themselves.",
            hint="Take a ramp of at most {most:angle}, or a smaller radius.",
            angle=self.angle,
            least=step.radii * (1 - math.cos(math.radians(self.angle))),
            most=most,
            field="angle",
            source="geometry",
            mend={"angle": most} if most > 0 else {},
        )

    def _steps(self, piece: Piece) -> list[tuple[Branch, Step]]:
        points = enumerate(piece.points(self.where))
        return [
            (piece.branch(one.branch), self.step(piece.branch(one.branch), one.at, i)) for i, one in points
        ]

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(_span(branch, step) for branch, step in self._steps(piece))

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return piece.points(self.where)

    # -- work ------------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            yield from bent_metal(piece.branch(span.branch), span, "where")

    def transform(self, piece: Piece) -> Piece:
        for index, (branch, step) in enumerate(self._steps(piece)):
            there, back = self.bending(index), self.bending(index, back=True)
            first, second = step.bends(branch.name)
            run = (
                *_laid(branch, first.low, first.high, there.path(step.first)),
                *_laid(branch, first.high, second.low, STRAIGHT),
                *_laid(branch, second.low, second.high, back.path(step.second)),
            )
            piece = piece.reshaped(_span(branch, step), *run)
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        branch, step = self._steps(before)[0]
        span, plane = _span(branch, step), plane_of(self.turn)
        section = branch.section_at((span.low + span.high) / 2)
        yield from self.tight(section, plane, self.inside_radius, "inside_radius")
        yield from self.on_edge(section, plane, self.inside_radius, "inside_radius")
        for bend in step.bends(branch.name):
            yield from self.holes_near(branch, bend, plane, "where")
        if self.height < depth(section, plane):
            yield note(
                "offset.one_squeeze",
                "A step of less than the thickness is made in one squeeze between two step blocks.",
                source="common practice, no source",
            )
        yield from pair_alike(before, self.where.on, plane, self.mirrored)

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        _, step = self._steps(before)[0]
        return say(
            "Offset the bar {height:length} {turn}, {meaning} {point}: two bends of {angle:angle}, inside "
            "radius {radius:size}, {ramp:length} straight between them. It takes {developed:length} of bar "
            "and draws in {drawn:length}.",
            height=self.height,
            turn=turn_words(self.turn, self.mirrored),
            meaning=_WORDS[self.meaning],
            point=point_words(before, self.where),
            angle=self.angle,
            radius=self.inside_radius,
            ramp=max(step.ramp, 0.0),
            developed=step.length,
            drawn=step.length - step.plan,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        _, step = self._steps(before)[0]
        return say(
            "Step {height:length}, both ends parallel, {plan:length} from bend to bend over all",
            height=self.height,
            plan=step.plan,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for branch, step in self._steps(before):
            sketch.highlight(_span(branch, step))
            for bend in step.bends(branch.name):
                sketch.radius(bend, self.inside_radius)

    examples = (
        Example(
            "8 thick, a step of 20 at 45°: a ramp of 20.0, 35.7 of bar; it reaches 28.3 and draws in 7.4",
            before=bar(Section.flat(30, 8), 300, marks={"M": 150, "Z": 290}),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "M"},
                "height": 20,
                "angle": 45,
                "inside_radius": 6,
            },
            after=(Result(length=300, worked=35.7, section=Section.flat(30, 8), marks={"M": 150, "Z": 290}),),
            says=("20 mm straight", "draws in 7.4 mm", "28.3 mm from bend to bend"),
            source="(20 - 2 × 10 × (1 - cos 45°)) / sin 45° = 20.0; 2 × 10 × π/4 + 20 = 35.7; "
            "2 × 10 × sin 45° + 20 × cos 45° = 28.3",
        ),
        Example(
            "On edge and beginning at a mark: the width counts",
            before=bar(Section.flat(20, 6), 300, marks={"M": 100}),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "M"},
                "meaning": "begins",
                "height": 30,
                "angle": 30,
                "inside_radius": 30,
                "turn": "left",
            },
            after=(Result(length=300, worked=80.5),),
            source="R = 40: (30 - 80 × (1 - cos 30°)) / sin 30° = 38.6; 80 × π/6 + 38.6 = 80.5",
        ),
        Example(
            "With scale on, the thinner bar takes a little less for the same step",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "centre"},
                "height": 25,
                "angle": 45,
                "inside_radius": 8,
            },
            heats=2,
            scale=0.05,
            after=(Result(length=300, worked=45.6, section=Section.square(11.8)),),
            source="R = 13.9: (25 - 27.8 × 0.29289) / 0.70711 = 23.84; 27.8 × π/4 + 23.84 = 45.67",
        ),
        Example(
            "A step lower than its thickness, on a sharp radius",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "centre"},
                "height": 6,
                "angle": 30,
                "inside_radius": 2,
            },
            after=(Result(worked=16.1),),
            cautions=("offset.tight", "offset.one_squeeze"),
            source="R = 8: (6 - 16 × 0.13397) / 0.5 = 7.71; 16 × π/6 + 7.71 = 16.09",
        ),
        Example(
            "A step too low for its bends is refused",
            before=bar(Section.flat(30, 8), 300),
            params={
                "where": {"on": "bar", "datum": "centre"},
                "height": 5,
                "angle": 60,
                "inside_radius": 10,
            },
            refused=("offset.too_low",),
        ),
        Example(
            "An offset that reaches beyond the end is refused",
            before=bar(Section.flat(30, 8), 300),
            params={
                "where": {"on": "bar", "datum": "end", "offset": 10},
                "height": 20,
                "angle": 45,
                "inside_radius": 6,
            },
            refused=("offset.off_the_branch",),
        ),
    )


def _span(branch: Branch, step: Step) -> Span:
    """Return the range an offset takes. Raises Unworkable where that is not on the branch."""
    over = max(-step.low, step.high - branch.length)
    if over > TOUCH:
        raise Unworkable(
            stop(
                "offset.off_the_branch",
                "The offset takes {long:length} and reaches {over:length} beyond {branch}.",
                hint="Choose a place {over:length} further in, or a smaller radius.",
                long=step.length,
                over=over,
                branch=branch.said,
                field="where",
                source="geometry",
            )
        )
    return Span(branch.name, max(step.low, 0.0), min(step.high, branch.length))


def _laid(branch: Branch, low: float, high: float, path: Path) -> tuple[Segment, ...]:
    """Return the metal of a range laid along a path; nothing where there is no range."""
    if high - low < TOUCH:
        return ()
    return laid(branch.segments_between(max(low, 0.0), min(high, branch.length)), path)
