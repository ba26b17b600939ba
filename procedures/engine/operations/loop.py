"""Loop: turn an end into an eye, an open ring, a hook or a crook."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.bending import BendingOperation
from procedures.engine.shaping.checks import bent_metal, end_taken, pair_alike
from procedures.engine.shaping.curving import TURNS, Bending, Turn, depth, plane_of, sense_of, turn_words
from procedures.engine.shaping.rolling import Rolling
from procedures.engine.sketch import Sketch

STYLES = {
    "side": "to one side of the bar",
    "centred": "its middle on the line of the bar",
}
_CLOSED = 1.0  # mm of gap that a loaded eye may have: from memory
_HOOK = 270.0  # degrees up to which it is called a hook: our word


class Loop(BendingOperation):
    """Rolls an end round to an inside diameter; the section and the length along the bar stay."""

    id = "loop"
    title = "Eye, ring or hook"
    family = "bend"
    help = (
        "The bar used is the sweep along the middle line: π × (inside diameter + thickness) for a whole eye."
        " It is closed, not welded."
    )
    synonyms = ("turned eye", "dolly eye", "loop", "open ring", "hook", "shepherd's crook", "ring the end")
    heat = (850, 1050)
    usual_heats = (2, 1)
    tools = ("anvil horn", "anvil edge", "mandrel pin of the eye's size")
    period = "turned on the horn; welded or punched where the date or the load asks for it"
    modern = "cold bender"
    safety = (
        "Open hooks snag sleeves: lay them out of the way.",
        "Nothing that lifts or carries people hangs on an eye that is only turned.",
    )

    on: str = declare.branch("On", "The branch, or the group whose every member is turned.")
    end: End = declare.choice("End", {"end": "its end", "start": "its start"}, default="end")
    inside_diameter: float = declare.length("Inside diameter")
    sweep: float = declare.angle(
        "Sweep", "330° to 360° makes an eye, about 180° a hook.", above=0, most=360, default=360.0
    )
    style: str = declare.choice("Style", STYLES, default="side")
    tail: float = declare.length(
        "Straight beyond", "Left straight at the tip, past the loop.", least=0, default=0.0
    )
    turn: Turn = declare.choice("Turns", TURNS, default="up")
    loaded: bool = declare.flag("Carries a load", "Then an eye must be closed.")
    mirrored: bool = declare.flag("Mirrored", "In a group, every second one goes to the other side.")

    # -- laying out ------------------------------------------------------------------------------

    @property
    def radius(self) -> float:
        """Inside radius [mm]."""
        return self.inside_diameter / 2

    def rolling(self, index: int = 0) -> Rolling:
        """Return the loop of the member of a group with this number."""
        sense = -sense_of(self.turn) if self.mirrored and index % 2 else sense_of(self.turn)
        bending = Bending(self.sweep, self.radius, plane_of(self.turn), sense)
        return Rolling(bending, self.end, self.tail, self.style == "centred")

    def _members(self, piece: Piece) -> list[tuple[Branch, Rolling]]:
        return [(piece.branch(name), self.rolling(i)) for i, name in enumerate(piece.members(self.on))]

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(rolling.span(branch) for branch, rolling in self._members(piece))

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        arcs = [rolling.arc(branch) for branch, rolling in self._members(piece)]
        return tuple(Point(one.branch, one.low if self.end == "end" else one.high) for one in arcs)

    # -- work ------------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from end_taken(piece, branch.name, self.end, "end")
            tip = Span(branch.name, span.low, branch.length)
            yield from bent_metal(branch, tip if self.end == "end" else Span(branch.name, 0, span.high), "on")

    def transform(self, piece: Piece) -> Piece:
        for branch, rolling in self._members(piece):
            piece = piece.reshaped(rolling.span(branch), *rolling.run(branch))
        return piece

    # -- checks ----------------------------------------------------------------------------------

    @property
    def gap(self) -> float:
        """How far apart [mm] along the inside the tip and the beginning of the loop stay."""
        return math.radians(360 - self.sweep) * self.radius

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        branch = before.branch(before.members(self.on)[0])
        arc, plane = self.rolling().arc(branch), plane_of(self.turn)
        section = branch.section_at((arc.low + arc.high) / 2)
        thickness = depth(section, plane)
        if self.inside_diameter < thickness:
            yield caution(
                "loop.small_eye",
                "An eye {inside:size} across is less than the bar, {thickness:size}: it cannot be turned.",
                hint="Punch and drift it instead.",
                inside=self.inside_diameter,
                thickness=thickness,
                field="inside_diameter",
                source="one thickness from memory",
            )
        yield from self.on_edge(section, plane, self.radius, "inside_diameter")
        if self.loaded and self.gap > _CLOSED:
            yield caution(
                "loop.opens_under_load",
                "The loop stays open by {gap:length}: under a load it opens further.",
                hint="Close it up, or weld it.",
                gap=self.gap,
                field="sweep",
                source="1 mm from memory",
            )
        if self.style == "centred" and self.sweep > 360 - _quarter(self.radius, thickness):
            yield note(
                "loop.tip_meets_the_neck",
                "The tip comes round to the neck: scarf it a little so that it lies close there.",
                source="common practice, no source",
            )
        yield from self.holes_near(branch, arc, plane, "on")
        yield from pair_alike(before, self.on, plane, self.mirrored)

    # -- words and drawing -----------------------------------------------------------------------

    @property
    def called(self) -> str:
        """What it is called: a hook up to three quarters of the way round, an eye beyond."""
        return "hook" if self.sweep <= _HOOK else "eye"

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        arc = self.rolling().arc(before.branch(before.members(self.on)[0]))
        neck = ""
        if self.style == "centred":
            neck = "First bend it square, the other way, {from_tip:length} from the tip. "
        tail = ", with {tail:length} left straight at the tip" if self.tail else ""
        return say(
            f"Turn the {self.end} of {{on}} {{turn}} into {{what}}, {{inside:size}} inside, round "
            f"{{sweep:angle}}{tail}. {neck}Bend the very tip first, then roll: it takes {{arc:length}}.",
            on=owner_words(before, self.on),
            turn=turn_words(self.turn, self.mirrored),
            what="a hook" if self.called == "hook" else "an eye",
            inside=self.inside_diameter,
            sweep=self.sweep,
            arc=arc.length,
            **({"tail": self.tail} if self.tail else {}),
            **({"from_tip": arc.length + self.tail} if neck else {}),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        centred = ", its middle on the line of the bar" if self.style == "centred" else ""
        if self.called == "hook":
            return say("{inside:size} inside, and it lies flat", inside=self.inside_diameter)
        return say(
            f"{{inside:size}} inside both ways, round right up to the tip, and it lies flat{centred}",
            inside=self.inside_diameter,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            run = after.branch(span.branch).segments_between(span.low, span.high)
            rolled = sum(one.length for one in run if isinstance(one.path, Arc))
            low = span.high - rolled if self.end == "end" else span.low
            sketch.radius(Span(span.branch, low, low + rolled), self.radius)

    examples = (
        Example(
            "A whole eye of 20 from 8 mm bar: 88.0",
            before=bar(Section.round(8), 300, marks={"M": 250}),
            params={"on": "bar", "inside_diameter": 20},
            after=(Result(length=300, worked=88.0, section=Section.round(8), marks={"M": 250}),),
            source="π × (20 + 8) = 88.0",
        ),
        Example(
            "330° of it leaves it open: 80.6",
            before=bar(Section.square(8), 300),
            params={"on": "bar", "inside_diameter": 20, "sweep": 330, "loaded": True},
            after=(Result(length=300, worked=80.6),),
            cautions=("loop.opens_under_load",),
            source="330/360 × π × 28 = 80.6; 30/360 × π × 20 = 5.2 open",
        ),
        Example(
            "A hook of ø10, inside radius 15: 62.8",
            before=bar(Section.round(10), 300),
            params={"on": "bar", "inside_diameter": 30, "sweep": 180, "tail": 12},
            after=(Result(length=300, worked=62.8),),
            source="π × (15 + 5) = 62.8",
        ),
        Example(
            "A tapered end: the thickness half way round counts",
            before=bar(Section.square(12), 560),
            first=(
                (
                    "taper",
                    {
                        "where": {"on": "bar", "datum": "start", "length": 80},
                        "end_section": {"shape": "square", "side": 6},
                    },
                ),
            ),
            params={"on": "bar", "end": "start", "inside_diameter": 36, "sweep": 330},
            after=(Result(length=617.1, worked=129.1, start=Section.square(6)),),
            source="taper 137.1 long; 6 + 6 × 64.6 / 137.1 = 8.82 half way: 330/180 × π × 22.41 = 129.1",
        ),
        Example(
            "An eye centred on the bar is bent square first, as far from the tip as the eye takes",
            before=bar(Section.square(8), 300),
            params={"on": "bar", "inside_diameter": 20, "sweep": 340, "style": "centred"},
            after=(Result(length=300, worked=87.1),),
            says=("bend it square, the other way, 83.1 mm from the tip",),
            source="340/360 × π × 28 = 83.1, and 4 of the stem at the neck; the bend back takes no bar",
        ),
        Example(
            "With scale on, thinner bar takes less",
            before=bar(Section.round(10), 300),
            params={"on": "bar", "inside_diameter": 30, "sweep": 360},
            heats=2,
            scale=0.05,
            after=(Result(length=300, worked=125.0, end=Section.round(9.8)),),
            says=("it takes 125 mm",),
            source="π × (30 + 9.8) = 125.04; the first 0.6 mm was beyond the fire",
        ),
        Example(
            "More eye than bar is refused",
            before=bar(Section.round(10), 100),
            params={"on": "bar", "inside_diameter": 30},
            refused=("loop.longer_than_the_branch",),
        ),
        Example(
            "An end that another branch hangs on is refused",
            before=bar(Section.flat(30, 8), 300),
            first=(
                (
                    "split",
                    {
                        "where": {"on": "bar", "datum": "end", "offset": 100},
                        "children": ["left", "right"],
                    },
                ),
            ),
            params={"on": "bar", "inside_diameter": 20},
            refused=("shape.end_taken",),
        ),
    )


def _quarter(radius: float, thickness: float) -> float:
    """Return the angle [deg] that a thickness takes up of an eye: its tip would lie within the stem."""
    return math.degrees(math.asin(min(thickness / (2 * radius + thickness), 1.0)))
