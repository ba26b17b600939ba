"""Fold back: lay the end of a bar back along itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import bent_metal, end_taken
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
from procedures.engine.shaping.holes import holes_between

CLOSE = 1.0  # mm between the legs, below which they lie on each other: our judgement
_THICK = 12.0  # mm, above which scale is trapped in a closed fold: from memory


class FoldBack(Operation):
    """Folds an end back: the bar goes on through the turn and comes back along itself as a flap."""

    id = "fold_back"
    title = "Fold back"
    family = "bend"
    help = "The turn of the fold takes bar too: π/2 times thickness and gap. A fold weld may follow."
    synonyms = ("double over", "return", "faggot fold", "fold over")
    heat = (1000, 1150)
    usual_heats = (1, 1)
    tools = ("hammer and anvil edge", "flux where it is to be welded")
    power_tools = ("the closing blow only",)
    period = "common for eyes and to thicken a bar"
    modern = "thicker bar"
    safety = ("A pocket of flux spits when the fold is closed.",)

    on: str = declare.branch("On", "The branch, or the group whose every member is folded.")
    end: End = declare.choice("End", {"end": "its end", "start": "its start"}, default="end")
    flap: float = declare.length("Flap", "How long the folded part is beyond the turn.")
    gap: float = declare.length(
        "Gap", "Between flap and bar: 0 to lie close, or the pin that goes there.", default=0.0, least=0
    )
    turn: Turn = declare.choice("Folded", TURNS, default="up")
    mirrored: bool = declare.flag("Mirrored", "In a group, every second one goes to the other side.")

    def folding(self, index: int = 0) -> Bending:
        """Return the half turn of the member of a group with this number."""
        sense = -sense_of(self.turn) if self.mirrored and index % 2 else sense_of(self.turn)
        return Bending(180.0, self.gap / 2, plane_of(self.turn), sense)

    def arcs(self, piece: Piece) -> tuple[Span, ...]:
        """Return the range of every branch that becomes the turn of the fold. Raises Unworkable."""
        return tuple(
            self._arc(piece.branch(name), index) for index, name in enumerate(piece.members(self.on))
        )

    def _arc(self, branch: Branch, index: int) -> Span:
        at_end = self.end == "end"
        at = branch.length - self.flap if at_end else self.flap
        arc = self.folding(index).span(branch, at, "arc_end" if at_end else "arc_start")
        over = max(-arc.low, arc.high - branch.length)
        if over > -TOUCH:
            raise Unworkable(
                stop(
                    "fold_back.too_long",
                    "A flap of {flap:length} with {arc:length} in the turn uses up {branch}, "
                    "which is {long:length} long.",
                    hint="Fold less back.",
                    flap=self.flap,
                    arc=arc.length,
                    branch=branch.said,
                    long=branch.length,
                    field="flap",
                    source="geometry",
                )
            )
        return arc

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(self._folded(piece, one) for one in self.arcs(piece))

    def _folded(self, piece: Piece, arc: Span) -> Span:
        """Return the turn and the flap."""
        if self.end == "end":
            return Span(arc.branch, arc.low, piece.branch(arc.branch).length)
        return Span(arc.branch, 0.0, arc.high)

    def _flap(self, piece: Piece, arc: Span) -> Span:
        if self.end == "end":
            return Span(arc.branch, arc.high, piece.branch(arc.branch).length)
        return Span(arc.branch, 0.0, arc.low)

    def _seat(self, piece: Piece, arc: Span) -> Span:
        """Return the run that the flap comes to lie along."""
        if self.end == "end":
            return Span(arc.branch, max(arc.low - self.flap, 0.0), arc.low)
        return Span(arc.branch, arc.high, min(arc.high + self.flap, piece.branch(arc.branch).length))

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for arc in self.arcs(piece):
            branch = piece.branch(arc.branch)
            both = (self._seat(piece, arc), self._folded(piece, arc))
            whole = Span(branch.name, min(one.low for one in both), max(one.high for one in both))
            yield from end_taken(piece, branch.name, self.end, "end")
            yield from bent_metal(branch, whole, "flap")

    def transform(self, piece: Piece) -> Piece:
        arcs = self.arcs(piece)
        for index, arc in enumerate(arcs):
            run = piece.branch(arc.branch).segments_between(arc.low, arc.high)
            piece = piece.reshaped(arc, *laid(run, self.folding(index).path(arc.length)))
            if self.gap < CLOSE:
                piece = _layered(piece, self._flap(piece, arc), self._seat(piece, arc))
        return replace(piece, worked=tuple(self._folded(piece, one) for one in arcs))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        arc = self.arcs(before)[0]
        branch = before.branch(arc.branch)
        thickness = self._thickness(before)
        seat = self._seat(before, arc)
        if seat.length < self.flap - TOUCH:
            yield caution(
                "fold_back.flap_past_the_bar",
                "The flap is {flap:length} long and has only {seat:length} to lie on.",
                hint="Fold less back.",
                flap=self.flap,
                seat=seat.length,
                field="flap",
                source="geometry",
            )
        if self.gap < CLOSE and thickness > _THICK:
            yield caution(
                "fold_back.traps_scale",
                "Closed on {thickness:size}, the fold traps scale, and a weld there fails.",
                hint="Close it at the outer end only and leave the throat open for flux.",
                thickness=thickness,
                field="gap",
                source="12 mm from memory",
            )
        for hole in holes_between(branch, arc, 2 * thickness)[:1]:
            yield caution(
                "fold_back.hole_near",
                "{hole} lies in the turn of the fold or close to it, and goes oval.",
                hint="Fold elsewhere, or make the hole afterwards.",
                hole=hole.said,
                field="flap",
                source="2 thicknesses from memory",
            )

    def _thickness(self, piece: Piece) -> float:
        arc = self.arcs(piece)[0]
        section = piece.branch(arc.branch).section_at((arc.low + arc.high) / 2)
        return depth(section, plane_of(self.turn))

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        nth = "last" if self.end == "end" else "first"
        return say(
            f"Fold the {nth} {{flap:length}} of {{on}} back {{turn}}{{gap}}. "
            "The turn takes {arc:length} more.",
            flap=self.flap,
            on=owner_words(before, self.on),
            turn=turn_words(self.turn, self.mirrored),
            gap=say(", leaving {gap:size} between", gap=self.gap) if self.gap else ", close onto itself",
            arc=self.arcs(after)[0].length,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        arc = self.arcs(after)[0]
        straight = arc.low if self.end == "end" else after.branch(arc.branch).length - arc.high
        outside = self.gap / 2 + self._thickness(after)
        return say("{long:length} over all to the outside of the fold", long=straight + outside)

    examples = (
        Example(
            "20 × 5, a flap of 60 folded close: the turn takes 7.9",
            before=bar(Section.flat(20, 5), 200, marks={"A": 132.146}),
            params={"on": "bar", "flap": 60},
            after=(Result(length=200, worked=67.85, section=Section.flat(20, 5), marks={"A": 132.1}),),
            lost=0,
            source="π × 5 / 2 = 7.9; 200 - 60 - 7.9 = 132.1, and 137.1 over all",
        ),
        Example(
            "Round a pin at the start of the bar",
            before=bar(Section.flat(30, 6), 300),
            params={"on": "bar", "end": "start", "flap": 50, "gap": 10},
            after=(Result(length=300, worked=75.13),),
            source="50 + π × (6 + 10) / 2 = 75.1",
        ),
        Example(
            "With scale on, thinner bar turns in less",
            before=bar(Section.flat(20, 5), 200),
            params={"on": "bar", "flap": 60},
            heats=2,
            scale=0.05,
            after=(Result(length=200, worked=60 + 7.54),),
            source="π × 4.8 / 2 = 7.54",
        ),
        Example(
            "A flap longer than the bar is refused",
            before=bar(Section.flat(20, 5), 60),
            params={"on": "bar", "flap": 55},
            refused=("fold_back.too_long",),
        ),
        Example(
            "A bent end is refused",
            before=bar(Section.flat(20, 5), 300),
            first=(
                (
                    "bend",
                    {"where": {"on": "bar", "datum": "end", "offset": 40}, "angle": 45, "inside_radius": 10},
                ),
            ),
            params={"on": "bar", "flap": 60},
            refused=("shape.already_bent",),
        ),
    )


def _layered(piece: Piece, flap: Span, seat: Span) -> Piece:
    """Return the piece with a flap and the run it lies on known to be layers of one another."""
    branch = piece.branch(flap.branch)
    runs = [branch.segments_between(one.low, one.high) for one in (flap, seat)]
    layers = sum(max((one.layers for one in run), default=0) for run in runs)
    for span in (flap, seat):
        if span.length > TOUCH:
            branch = branch.changed(span.low, span.high, lambda one: replace(one, layers=layers))
    return piece.with_branch(branch)
