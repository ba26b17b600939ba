"""Bend: turn the bar through an angle on a radius."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Position, Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import point_words
from procedures.engine.shaping.checks import bent_metal, pair_alike
from procedures.engine.shaping.curving import (
    TURNS,
    Bending,
    Meaning,
    Turn,
    depth,
    laid,
    plane_of,
    sense_of,
    turn_words,
)
from procedures.engine.shaping.holes import holes_between
from procedures.engine.sketch import Sketch

MEANINGS = {
    "arc_start": "where the bend begins",
    "arc_middle": "the middle of the bend",
    "outside_corner": "the outside corner",
    "arc_end": "where the bend ends",
}
_WORDS = {
    "arc_start": "beginning at",
    "arc_middle": "with its middle at",
    "outside_corner": "with its outside corner at",
    "arc_end": "ending at",
}
_HOT, _COLD, _COLD_FIBROUS = 0.5, 1.5, 3.0  # thicknesses of inside radius: from memory
_ON_EDGE = 1.5  # widths of inside radius: from memory
_COLD_ROUND, _COLD_FLAT = 8.0, 5.0  # mm that a smith bends cold: from memory


class Bend(Operation):
    """Turns the axis of the bar through an angle; metal is neither gained nor lost."""

    id = "bend"
    title = "Bend"
    family = "bend"
    help = "The middle line of the bar keeps its length. Say which point of the bend your mark means."
    synonyms = ("angle bend", "radius bend", "set", "crook", "turn up")
    heat = (850, 1050)
    usual_heats = (1, 1)
    tools = ("anvil horn, bending fork or vice", "bevel or template")
    helper = "on heavy bar"
    period = "horn, fork and vice"
    modern = "bender or press: an even radius and clamp marks"
    safety = (
        "A bend quenched in water may crack: let it cool in air.",
        "Vice screws stay hot; cold bends spring back.",
    )

    where: Position = declare.position("At", "The point of the straight bar that the bend is measured from.")
    meaning: Meaning = declare.choice(
        "That point is",
        MEANINGS,
        "An outside corner is measured along the leg at the start, or at the end where the point is told so.",
        default="arc_middle",
    )
    angle: float = declare.angle("Angle", "How far the bar turns.", above=0, most=360)
    inside_radius: float = declare.length("Inside radius", "Of the hollow side.", least=0)
    turn: Turn = declare.choice("Turns", TURNS, "Up and down bend through the thickness.", default="up")
    neutral: float = declare.number(
        "Neutral line",
        "K: thicknesses from the inside to the line that keeps its length; 0.5 is the middle.",
        default=0.5,
        least=0.3,
        most=0.6,
    )
    cold: bool = declare.flag("Bent cold")
    mirrored: bool = declare.flag("Mirrored", "In a group, every second one is bent to the other side.")

    @property
    def is_cold(self) -> bool:
        return self.cold

    def bending(self, index: int = 0) -> Bending:
        """Return the bend of the member of a group with this number."""
        sense = -sense_of(self.turn) if self.mirrored and index % 2 else sense_of(self.turn)
        return Bending(self.angle, self.inside_radius, plane_of(self.turn), sense, self.neutral)

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        if self.meaning == "outside_corner" and self.angle >= 180:
            raise Unworkable(
                stop(
                    "bend.no_corner",
                    "A bend through {angle:angle} has no outside corner.",
                    hint="Let the point be the beginning, the middle or the end of the bend.",
                    angle=self.angle,
                    field="meaning",
                    source="geometry",
                    mend={"meaning": "arc_middle"},
                )
            )
        return tuple(self._span(piece, index, one) for index, one in enumerate(piece.points(self.where)))

    def _span(self, piece: Piece, index: int, point: Point) -> Span:
        branch = piece.branch(point.branch)
        from_end = self.where.datum == "end"
        span = self.bending(index).span(branch, point.at, self.meaning, from_end=from_end)
        over = max(-span.low, span.high - branch.length)
        if over > TOUCH:
            raise Unworkable(
                stop(
                    "bend.off_the_branch",
                    "The bend takes {arc:length} and reaches {over:length} beyond {branch}.",
                    hint="Choose a place {over:length} further in, or a smaller radius.",
                    arc=span.length,
                    over=over,
                    branch=branch.said,
                    field="where",
                    source="geometry",
                )
            )
        return Span(branch.name, max(span.low, 0.0), min(span.high, branch.length))

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return () if self.cold else self.spans(piece)

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return piece.points(self.where)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            yield from bent_metal(piece.branch(span.branch), span, "where")

    def transform(self, piece: Piece) -> Piece:
        for index, span in enumerate(self.spans(piece)):
            run = piece.branch(span.branch).segments_between(span.low, span.high)
            piece = piece.reshaped(span, *laid(run, self.bending(index).path(span.length)))
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        for span in after.worked[:1]:
            branch = after.branch(span.branch)
            section = branch.section_at((span.low + span.high) / 2)
            yield from self._tightness(after, section)
            yield from self._cold_work(section)
            near = 2 * depth(section, plane_of(self.turn))
            for hole in holes_between(branch, span, near):
                yield caution(
                    "bend.hole_near",
                    "{hole} comes nearer to the bend than {near:length}: it goes oval.",
                    hint="Bend first, or drift the hole again afterwards.",
                    hole=hole.said,
                    near=near,
                    field="where",
                    source="2 thicknesses from memory",
                )
        yield from pair_alike(before, self.where.on, plane_of(self.turn), self.mirrored)

    def _tightness(self, piece: Piece, section: Section) -> Iterator[Finding]:
        thickness = depth(section, plane_of(self.turn))
        times = _HOT
        if self.cold:
            times = _COLD_FIBROUS if piece.material.id == "wrought_iron" else _COLD
        if self.inside_radius < times * thickness:
            yield caution(
                "bend.tight",
                "Inside radius {radius:size} on {thickness:size}: below {times:number} times the thickness "
                + ("it cracks cold." if self.cold else "the inside folds into a rag."),
                hint="Give at least {least:size}." + (" Or bend it hot." if self.cold else ""),
                radius=self.inside_radius,
                thickness=thickness,
                times=times,
                least=times * thickness,
                field="inside_radius",
                source=f"{times:g} thicknesses from memory",
                mend={"inside_radius": round(times * thickness, 2)},
            )
        elif self.inside_radius < thickness and self.neutral == 0.5:
            yield note(
                "bend.neutral_line",
                "Below an inside radius of {thickness:size} the neutral line drifts to about 0.4 to 0.45: "
                "the bend may take a little less bar.",
                hint="Measure the first one.",
                thickness=thickness,
                field="neutral",
                source="0.4 from memory, 0.45 our judgement",
            )
        flat = section.width > 1.2 * section.thickness
        if plane_of(self.turn) == "hard" and flat and self.inside_radius < _ON_EDGE * section.width:
            yield caution(
                "bend.on_edge",
                "On edge, {section:section} buckles below an inside radius of {least:size}.",
                hint="Take a larger radius, or flat it after every few blows.",
                section=section,
                least=_ON_EDGE * section.width,
                field="inside_radius",
                source="1.5 widths from memory",
            )

    def _cold_work(self, section: Section) -> Iterator[Finding]:
        most = _COLD_ROUND if section.shape == "round" else _COLD_FLAT
        thickness = depth(section, plane_of(self.turn))
        if self.cold and thickness > most:
            yield caution(
                "bend.cold_heavy",
                "{section:section} is heavy to bend cold; {most:size} is the usual limit by hand.",
                hint="Bend it hot.",
                section=section,
                most=most,
                field="cold",
                source="from memory",
                mend={"cold": False},
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "Bend {angle:angle} {turn}, inside radius {radius:size}, {meaning} {point}. "
            "The bend takes {arc:length} of bar.",
            angle=self.angle,
            turn=turn_words(self.turn, self.mirrored),
            radius=self.inside_radius,
            meaning=_WORDS[self.meaning],
            point=point_words(before, self.where),
            arc=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        if self.angle == 360:
            return say("{across:length} inside, measured both ways across", across=2 * self.inside_radius)
        return say(
            "{angle:angle} against the bevel, radius {radius:size} on the inside",
            angle=self.angle,
            radius=self.inside_radius,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.radius(span, self.inside_radius)

    examples = (
        Example(
            "30 × 8, legs 100 and 60 outside: 143.8 of bar is enough, not 160",
            before=bar(Section.flat(30, 8), 143.8, marks={"M": 100}),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "M"},
                "meaning": "outside_corner",
                "angle": 90,
                "inside_radius": 15,
            },
            after=(Result(length=143.8, worked=29.8, section=Section.flat(30, 8), marks={"M": 100}),),
            source="π/2 × (15 + 8/2) = 29.8; 77 + 29.8 + 37 = 143.8",
        ),
        Example(
            "A tapered bar: the thickness in the middle of the bend counts",
            before=bar(Section.square(12), 200),
            first=(
                (
                    "taper",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 60},
                        "end_section": {"shape": "square", "side": 6},
                    },
                ),
            ),
            params={
                "where": {"on": "bar", "datum": "end"},
                "meaning": "arc_end",
                "angle": 90,
                "inside_radius": 20,
            },
            after=(Result(length=242.9, worked=37.0, end=Section.square(6)),),
            source="taper 60 × 144 × 3 / (144 + 72 + 36) = 102.9; t = 6 + 6 × 18.4 / 102.9 = 7.07 half way: "
            "π/2 × (20 + 7.07/2) = 37.0",
        ),
        Example(
            "With scale on, the thinner bar takes less",
            before=bar(Section.square(12), 200),
            params={"where": {"on": "bar", "datum": "centre"}, "angle": 90, "inside_radius": 12},
            heats=2,
            scale=0.05,
            after=(Result(length=200, worked=28.1, section=Section.square(11.8)),),
            source="π/2 × (12 + 11.8/2) = 28.1",
        ),
        Example(
            "A sharp bend is cautioned",
            before=bar(Section.square(12), 500),
            params={"where": {"on": "bar", "datum": "centre"}, "angle": 90, "inside_radius": 3},
            after=(Result(worked=14.1),),
            cautions=("bend.tight",),
            source="π/2 × (3 + 6) = 14.1",
        ),
        Example(
            "A bend that reaches beyond the end is refused",
            before=bar(Section.square(12), 200),
            params={"where": {"on": "bar", "datum": "end", "offset": 5}, "angle": 90, "inside_radius": 15},
            refused=("bend.off_the_branch",),
        ),
        Example(
            "Half a turn has no outside corner",
            before=bar(Section.square(12), 200),
            params={
                "where": {"on": "bar", "datum": "centre"},
                "meaning": "outside_corner",
                "angle": 180,
                "inside_radius": 15,
            },
            refused=("bend.no_corner",),
        ),
    )
