"""Square corner: bend the bar and forge the outside of the bend full and square."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.pieces.zones import around
from procedures.engine.place_words import point_words
from procedures.engine.shaping.bending import BendingOperation
from procedures.engine.shaping.checks import pair_alike, plain_bar
from procedures.engine.shaping.cornering import Cornering, CornerShape
from procedures.engine.shaping.curving import (
    TURNS,
    Turn,
    depth,
    is_straight,
    laid,
    plane_of,
    sense_of,
    turn_words,
)
from procedures.engine.sketch import Sketch

MEANINGS = {
    "axis": "where the middle lines of the legs meet",
    "outside_corner": "the outside corner",
    "inside_corner": "the inside corner",
}
_WORDS = {
    "axis": "the middle lines of its legs meeting at",
    "outside_corner": "its outside corner at",
    "inside_corner": "its inside corner at",
}
_SHARP = 1.0  # mm of inside fillet below which the metal laps over itself: from memory
_HOT = 15.0  # mm on each side of the mark: Stokes, 1992
_UPSET = 1.5  # times the thickness: Stokes, 1992
_IS_UPSET = 1.05  # of the area beside it, from which the bar counts as upset there: our judgement


class SquareCorner(BendingOperation):
    """Turns the bar on the spot: the legs meet in a full corner and keep the whole length of the bar."""

    id = "corner"
    title = "Square corner"
    family = "bend"
    help = (
        "The middle lines of the legs meet at the corner and keep the length of the bar, so an outside leg"
        " is half a thickness longer than its bar. The upsetting is part of this step."
    )
    synonyms = ("forged angle", "squared corner", "corner upset", "sharp corner", "square bend")
    heat = (1100, 1250)
    usual_heats = (6, 3)
    tools = ("anvil face and rounded edge", "water to cool the legs", "try square")
    helper = "to hold long legs"
    period = "upset, bent and squared up in the fire; so it is seen on old work"
    modern = "mitred and welded"
    safety = ("Water beside a yellow heat spits steam.", "Hot legs swing: mind who stands beside.")

    where: Position = declare.position("At", "A point of the straight bar.")
    meaning: str = declare.choice(
        "That point is",
        MEANINGS,
        "An outside or inside corner is measured along the leg at the start, or at the end where the point "
        "is told from there.",
        default="axis",
    )
    angle: float = declare.angle("Angle", "How far the bar turns.", above=0, most=150, default=90.0)
    fillet: float = declare.length("Inside fillet", "Radius; 0 is sharp.", least=0, default=2.0)
    turn: Turn = declare.choice("Turns", TURNS, default="up")
    mirrored: bool = declare.flag("Mirrored", "In a group, every second one is bent to the other side.")

    # -- laying out ------------------------------------------------------------------------------

    def plan(self, index: int = 0) -> Cornering:
        """Return the corner to be made on the member of a group with this number."""
        sense = -sense_of(self.turn) if self.mirrored and index % 2 else sense_of(self.turn)
        return Cornering(self.angle, self.fillet, plane_of(self.turn), sense)

    def _shapes(self, piece: Piece) -> list[tuple[Branch, CornerShape]]:
        points = enumerate(piece.points(self.where))
        return [
            (piece.branch(one.branch), self._shape(piece.branch(one.branch), one.at, i)) for i, one in points
        ]

    def _shape(self, branch: Branch, at: float, index: int) -> CornerShape:
        return self.plan(index).laid_out(branch, at, self.meaning, from_end=self.where.datum == "end")

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(_span(branch, shape) for branch, shape in self._shapes(piece))

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        hot = []
        for branch, shape in self._shapes(piece):
            span = _span(branch, shape)
            hot.append(around(branch, span.low, span.high, max(_HOT - shape.half, 0.0)))
        return tuple(hot)

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return piece.points(self.where)

    # -- work ------------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            yield from plain_bar(piece.branch(span.branch), span)

    def transform(self, piece: Piece) -> Piece:
        for index, (branch, shape) in enumerate(self._shapes(piece)):
            span = _span(branch, shape)
            run = laid(branch.segments_between(span.low, span.high), self.plan(index).path(shape))
            piece = piece.reshaped(span, *run)
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        branch, shape = self._shapes(before)[0]
        section, plane, span = branch.section_at(shape.at), plane_of(self.turn), _span(branch, shape)
        if self.fillet < _SHARP:
            yield caution(
                "corner.sharp_inside",
                "An inside corner sharper than {least:size} laps over itself and leaves a cold shut.",
                hint="Keep a small fillet, and file it out cold where it must be sharp.",
                least=_SHARP,
                field="fillet",
                source="1 mm from memory",
                mend={"fillet": 2.0},
            )
        if not _is_upset(branch, shape, depth(section, plane)):
            yield note(
                "corner.gathers",
                "This corner holds {more:length} more bar than a plain bend. Squared up without gathering "
                "it, the outside thins to about {share:number} of the thickness.",
                hint="Upset to {upset:size} first, hot for {hot:length} on each side.",
                more=self.plan().gathered(section),
                share=0.8,
                upset=self._upset(after),
                hot=_HOT,
                source="geometry; 1½ thicknesses and 15 mm: Stokes, Intermediate Blacksmithing, FAO, 1992",
            )
        yield from self.on_edge(section, plane, self.fillet, "turn")
        yield from self.holes_near(branch, span, plane, "where")
        yield from pair_alike(before, self.where.on, plane, self.mirrored)

    def _upset(self, after: Piece) -> float:
        """Return how thick [mm] the bar is upset where it turns: the scale of the step is gone by then."""
        span = after.worked[0]
        section = after.branch(span.branch).section_at((span.low + span.high) / 2)
        return _UPSET * depth(section, plane_of(self.turn))

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        inside = say("inside fillet {fillet:size}", fillet=self.fillet) if self.fillet else "sharp inside"
        return say(
            "Upset the bar where it turns to about {upset:size}, bend it {angle:angle} {turn}, {meaning} "
            "{point}, and forge the corner full and square, {inside}. Lay it on its side on the anvil and "
            "strike along the legs, never over the edge.",
            upset=self._upset(after),
            angle=self.angle,
            turn=turn_words(self.turn, self.mirrored),
            meaning=_WORDS[self.meaning],
            point=point_words(before, self.where),
            inside=inside,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        branch, _ = self._shapes(before)[0]
        if not is_straight(branch, Span(branch.name, 0.0, branch.length)):
            return say("{angle:angle} on the square, the outside corner full", angle=self.angle)
        span = after.worked[0]
        made = after.branch(span.branch)
        shape = self.plan().on(made.section_at((span.low + span.high) / 2))
        return say(
            "{angle:angle} on the square, the outside corner full; outside legs {first:length} and "
            "{second:length}",
            angle=self.angle,
            first=(span.low + span.high - shape.filled) / 2 + shape.outside,
            second=made.length - (span.low + span.high + shape.filled) / 2 + shape.outside,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.radius(span, self.fillet)

    examples = (
        Example(
            "20 × 12, legs 100 and 80 outside, sharp: 168.0 of bar",
            before=bar(Section.flat(20, 12), 168, marks={"C": 94}),
            params={"where": {"on": "bar", "datum": "mark", "mark": "C"}, "fillet": 0},
            after=(Result(length=168.0, worked=12.0, section=Section.flat(20, 12), marks={"C": 94}),),
            cautions=("corner.sharp_inside", "corner.gathers"),
            says=("outside legs 100 mm and 80 mm", "about 18 mm"),
            source="100 + 80 - 12 = 168; 100 - 12/2 = 94; gathered (1 - π/4) × 12 = 2.6",
        ),
        Example(
            "The same with an inside fillet of 3: 168.2, marked by its outside corner",
            before=bar(Section.flat(20, 12), 168.161, marks={"C": 100}),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "C"},
                "meaning": "outside_corner",
                "fillet": 3,
            },
            after=(Result(length=168.2, worked=18.2, section=Section.flat(20, 12)),),
            says=("outside legs 100 mm and 80 mm", "inside fillet 3 mm"),
            source="168 + (1 - π/4) × 3² / 12 = 168.16; 12 + 2 × 3 + 0.16 of it in the corner",
        ),
        Example(
            "60° on edge, from the end of the bar: the width counts",
            before=bar(Section.flat(16, 10), 300),
            params={
                "where": {"on": "bar", "datum": "end", "offset": 120},
                "meaning": "outside_corner",
                "angle": 60,
                "fillet": 4,
                "turn": "left",
            },
            after=(Result(length=300, worked=13.9, at={200: Section.flat(16, 10)}),),
            cautions=("corner.on_edge",),
            source="(16 + 2 × 4) × tan 30° = 13.86, and 0.05 of bar in the fillet",
        ),
        Example(
            "With scale on, the bar is thinner for 15 mm on each side of the mark",
            before=bar(Section.square(12), 200),
            params={"where": {"on": "bar", "datum": "centre"}, "fillet": 2},
            heats=3,
            scale=0.05,
            after=(
                Result(length=200, worked=15.8, section=Section.square(11.7), at={83: Section.square(12)}),
            ),
            source="11.7 + 2 × 2 = 15.7, and (1 - π/4) × 2² / 11.7 = 0.07 of bar in the fillet",
        ),
        Example(
            "A corner that reaches beyond the end is refused",
            before=bar(Section.square(20), 200),
            params={"where": {"on": "bar", "datum": "end", "offset": 8}, "fillet": 2},
            refused=("corner.off_the_branch",),
        ),
        Example(
            "A corner in a twist is refused",
            before=bar(Section.square(12), 200),
            first=(
                (
                    "twist",
                    {"where": {"on": "bar", "datum": "centre", "length": 80}, "turns": 1, "hand": "right"},
                ),
            ),
            params={"where": {"on": "bar", "datum": "centre"}, "fillet": 2},
            refused=("shape.curved_metal",),
        ),
    )


def _span(branch: Branch, shape: CornerShape) -> Span:
    """Return the run of bar in a corner. Raises Unworkable where that is not on the branch."""
    over = max(-shape.low, shape.high - branch.length)
    if over > TOUCH:
        raise Unworkable(
            stop(
                "corner.off_the_branch",
                "The corner takes {long:length} and reaches {over:length} beyond {branch}.",
                hint="Choose a place {over:length} further in.",
                long=shape.high - shape.low,
                over=over,
                branch=branch.said,
                field="where",
                source="geometry",
            )
        )
    return Span(branch.name, max(shape.low, 0.0), min(shape.high, branch.length))


def _is_upset(branch: Branch, shape: CornerShape, thickness: float) -> bool:
    """Whether the bar is thicker where the corner comes than it is on either side."""
    beside = max(shape.at - 3 * thickness, 0.0), min(shape.at + 3 * thickness, branch.length)
    return branch.section_at(shape.at).area > _IS_UPSET * max(branch.section_at(one).area for one in beside)
