"""Scroll: roll the end of a branch into a spiral."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.formulas import archimedes_spiral, logarithmic_spiral
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.path import Law, Spiral
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import bent_metal, end_taken, pair_alike
from procedures.engine.shaping.curving import TURNS, Turn, depth, laid, plane_of, sense_of, turn_words
from procedures.engine.shaping.holes import holes_between
from procedures.engine.sketch import Sketch

_LEAST_GAP = 1.0  # mm between coils: from memory
_FORMULAS = {"archimedes": archimedes_spiral, "logarithmic": logarithmic_spiral}


class Scroll(Operation):
    """Rolls an end into a spiral that winds tighter towards the tip; its length stays."""

    id = "scroll"
    title = "Scroll"
    family = "bend"
    help = "Radii are those of the middle line. Give the turns, or the bar to be used and the turns follow."
    synonyms = ("volute", "C-scroll", "S-scroll", "tendril")
    one_of = (("turns", "length"),)
    heat = (850, 1050)
    usual_heats = (3, 2)
    tools = ("anvil edge", "scroll fork", "scroll iron for sets", "full-size drawing")
    period = "freehand to a drawing, each slightly different"
    modern = "scroll former: every one alike"
    safety = ("The tail swings as the scroll is turned.",)

    on: str = declare.branch("On", "The branch, or the group whose every member is scrolled.")
    end: End = declare.choice("End", {"end": "its end", "start": "its start"}, default="end")
    inner: float = declare.length("Inner radius", "Of the middle line, at the tip.")
    outer: float = declare.length("Outer radius", "Of the middle line, where the scroll begins.")
    turns: float | None = declare.number("Number of turns", required=False, above=0, most=20)
    length: float | None = declare.length(
        "Bar used", "The length of bar to roll up; the turns follow.", required=False
    )
    law: Law = declare.choice(
        "Opens out",
        {"archimedes": "evenly: coils equally far apart", "logarithmic": "in proportion: coils ever wider"},
        default="archimedes",
    )
    turn: Turn = declare.choice("Turns", TURNS, default="up")
    mirrored: bool = declare.flag("Mirrored", "In a group, every second one goes to the other side.")

    def reckoned(self) -> tuple[float, float]:
        """Return (turns, length of bar [mm]). Raises Unworkable where the two radii allow none."""
        if self.outer <= self.inner:
            raise Unworkable(
                stop(
                    "scroll.not_opening",
                    "The outer radius, {outer:size}, must be more than the inner, {inner:size}.",
                    hint="Give the radius at the stem as the outer one.",
                    outer=self.outer,
                    inner=self.inner,
                    field="outer",
                    source="geometry",
                    mend={"inner": self.outer, "outer": self.inner},
                )
            )
        formula = _FORMULAS[self.law]
        if self.turns is not None:
            return self.turns, formula.spiral_length(self.inner, self.outer, self.turns)
        length = self.length or 0.0
        if length <= self.outer - self.inner:
            raise Unworkable(
                stop(
                    "scroll.too_short_for_its_radii",
                    "{length:length} of bar is no longer than the way between the radii, {straight:length}.",
                    hint="Use more bar, or bring the radii nearer to each other.",
                    length=length,
                    straight=self.outer - self.inner,
                    field="length",
                    source="geometry",
                )
            )
        return formula.turns_for_length(self.inner, self.outer, length), length

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        _, length = self.reckoned()
        return tuple(self._span(piece.branch(name), length) for name in piece.members(self.on))

    def _span(self, branch: Branch, length: float) -> Span:
        if length > branch.length + TOUCH:
            raise Unworkable(
                stop(
                    "scroll.longer_than_the_branch",
                    "The scroll takes {length:length}; {branch} is {long:length} long.",
                    hint="Take fewer turns or smaller radii.",
                    length=length,
                    branch=branch.said,
                    long=branch.length,
                    field="turns" if self.turns is not None else "length",
                    source="geometry",
                    mend=self._that_fits(branch.length),
                )
            )
        length = min(length, branch.length)
        if self.end == "end":
            return Span(branch.name, branch.length - length, branch.length)
        return Span(branch.name, 0.0, length)

    def _that_fits(self, long: float) -> dict[str, float]:
        """Return the turns, or the length, that use up a branch of this length [mm]; nothing if none do."""
        if long <= self.outer - self.inner:
            return {}
        if self.length is not None:
            return {"length": long}
        turns = _FORMULAS[self.law].turns_for_length(self.inner, self.outer, long)
        return {"turns": int(turns * 100) / 100} if turns >= 0.01 else {}

    def problems(self, piece: Piece) -> Iterator[Finding]:
        turns, _ = self.reckoned()
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from end_taken(piece, branch.name, self.end, "end")
            yield from bent_metal(branch, span, "on")
            tip, stem = self._tip_and_stem(piece, span)
            if self.inner < depth(tip, plane_of(self.turn)) / 2:
                yield stop(
                    "scroll.no_inside",
                    "An inner radius of {inner:size} is less than half of {tip:section}.",
                    hint="Give at least {least:size}.",
                    inner=self.inner,
                    tip=tip,
                    least=depth(tip, plane_of(self.turn)),
                    field="inner",
                    source="geometry",
                    mend={"inner": depth(tip, plane_of(self.turn))},
                )
            gap = self.gap(turns, tip, stem)
            if gap is not None and gap < -TOUCH:
                yield stop(
                    "scroll.coils_in_each_other",
                    "The coils would run {over:length} into each other.",
                    hint="Take fewer turns, a larger outer radius, or thinner bar.",
                    over=-gap,
                    field="turns" if self.turns is not None else "length",
                    source="geometry",
                )

    def _tip_and_stem(self, piece: Piece, span: Span) -> tuple[Section, Section]:
        first, last = piece.branch(span.branch).sections_between(span.low, span.high)
        return (last, first) if self.end == "end" else (first, last)

    def gap(self, turns: float, tip: Section, stem: Section) -> float | None:
        """Return the least clear way [mm] between two coils; None where there is less than one turn.

        It is the pitch less half of the bar on either side, at the tip and at the stem.
        """
        if turns <= 1:
            return None
        spiral = Spiral(self.inner, self.outer, turns, self.law)
        thin, thick = (depth(one, plane_of(self.turn)) for one in (tip, stem))
        once = 1 / turns
        inside = spiral.radius_at(once) - self.inner - thin - (thick - thin) * once / 2
        outside = self.outer - spiral.radius_at(1 - once) - thick + (thick - thin) * once / 2
        return min(inside, outside)

    def transform(self, piece: Piece) -> Piece:
        turns, _ = self.reckoned()
        plane, sense = plane_of(self.turn), sense_of(self.turn)
        for index, span in enumerate(self.spans(piece)):
            side = -sense if self.mirrored and index % 2 else sense
            first, last = (self.outer, self.inner) if self.end == "end" else (self.inner, self.outer)
            path = Spiral(first, last, turns, self.law, plane, side)
            run = piece.branch(span.branch).segments_between(span.low, span.high)
            piece = piece.reshaped(span, *laid(run, path))
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        turns, _ = self.reckoned()
        span = after.worked[0]
        tip, stem = self._tip_and_stem(after, span)
        thin, thick = (depth(one, plane_of(self.turn)) for one in (tip, stem))
        if self.inner < thin:
            yield caution(
                "scroll.tight_eye",
                "An inner radius of {inner:size} is less than the bar there, {thin:size}: its inside folds.",
                hint="Open the eye, or draw the tip thinner first.",
                inner=self.inner,
                thin=thin,
                field="inner",
                source="one thickness from memory",
            )
        gap = self.gap(turns, tip, stem)
        if gap is not None and -TOUCH <= gap < _LEAST_GAP:
            yield caution(
                "scroll.coils_close",
                "The coils come within {gap:length} of each other.",
                hint="Take fewer turns or a larger outer radius; they cannot be parted or cleaned later.",
                gap=max(gap, 0.0),
                field="outer",
                source="1 mm from memory",
            )
        if thin >= thick and turns > 0.75:
            yield caution(
                "scroll.not_tapered",
                "The tip is as thick as the stem, {stem:section}.",
                hint="Taper the end first: a scroll of even bar looks clumsy and its eye is hard to start.",
                stem=stem,
                field="on",
                source="common practice, no source",
            )
        for hole in holes_between(before.branch(span.branch), span)[:1]:
            yield caution(
                "scroll.hole_inside",
                "{hole} lies in the scroll and goes oval.",
                hint="Scroll beyond it, or drift it again afterwards.",
                hole=hole.said,
                field="on",
                source="2 thicknesses from memory",
            )
        yield from pair_alike(before, self.on, plane_of(self.turn), self.mirrored)

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        turns, length = self.reckoned()
        return {"turns": turns, "length": length}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        turns = round(self.reckoned()[0], 2)
        nth = "last" if self.end == "end" else "first"
        return say(
            f"Scroll the {nth} {{length:length}} of {{on}} {{turn}}, "
            f"{'one turn' if turns == 1 else '{turns:number} turns'}, "
            "from a radius of {outer:size} down to {inner:size} at the tip.",
            length=worked_length(after),
            on=owner_words(before, self.on),
            turn=turn_words(self.turn, self.mirrored),
            **({} if turns == 1 else {"turns": turns}),
            outer=self.outer,
            inner=self.inner,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        turns, _ = self.reckoned()
        tip, stem = self._tip_and_stem(after, after.worked[0])
        gap = self.gap(turns, tip, stem)
        if gap is None:
            return say(
                "against the drawing: a radius of {outer:size} on the middle line where it begins",
                outer=self.outer,
            )
        return say("against the drawing; {gap:length} clear between coils", gap=max(gap, 0.0))

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.length(span)

    examples = (
        Example(
            "From 7 to 32 in 1¾ turns: 216.1 of bar",
            before=bar(Section.square(5), 300),
            params={"on": "bar", "inner": 7, "outer": 32, "turns": 1.75},
            after=(Result(length=300, worked=216.1),),
            source="exact arc length; the shop's check is π × 1.75 × (7 + 32) = 214.4; gap 14.3 - 5 = 9.3",
        ),
        Example(
            "The same radii opening in proportion take less",
            before=bar(Section.square(5), 300),
            params={"on": "bar", "inner": 7, "outer": 32, "turns": 1.75, "law": "logarithmic"},
            after=(Result(length=300, worked=182.6),),
            source="25 × √(1 + k²) / k with k = ln(32/7) / (2π × 1.75)",
        ),
        Example(
            "By the bar to be used, from the start; the turns follow",
            before=bar(Section.round(8), 400, marks={"A": 216.1}),
            params={"on": "bar", "end": "start", "inner": 10, "outer": 60, "length": 443.351 * 0.5},
            after=(Result(length=400, worked=221.68),),
            source="half of the 443.35 mm that 10 to 60 takes in two turns",
        ),
        Example(
            "More turns than there is bar are refused",
            before=bar(Section.square(5), 200),
            params={"on": "bar", "inner": 7, "outer": 32, "turns": 1.75},
            refused=("scroll.longer_than_the_branch",),
        ),
        Example(
            "Coils that would run into each other are refused",
            before=bar(Section.square(10), 900),
            params={"on": "bar", "inner": 10, "outer": 40, "turns": 4},
            refused=("scroll.coils_in_each_other",),
        ),
    )
