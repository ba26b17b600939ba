"""Upset: make a hot run shorter and thicker."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import sqrt
from typing import Any

from calculators.formulas.upset_length import FREE_LENGTH
from calculators.roots import rising_root
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import holes_worked, no_such_bar, plain_bar
from procedures.engine.shaping.tapering import ENDS, end_meant

GROWTH = 1.5  # times the thickness in one gathering
MOST_SWELL = 20.0  # times the thickness: where the search for a section ends


class Upset(Operation):
    """Upsets a run to a section, or by a shortening or to a length from which the section follows."""

    id = "upset"
    title = "Upset"
    family = "move"
    help = "The hot part thickens; its metal stays, so what it gains across it loses in length."
    synonyms = ("jump up", "stave", "gather")
    one_of = (("target", "shortening", "final_length"),)
    heat = (1100, 1250)
    usual_heats = (3, 2)
    tools = ("anvil face, upsetting plate or floor plate", "vice", "water to cool what stays thin")
    power_tools = ("a holder, for short stubby blanks only",)
    helper = "for upsets in the middle of a bar"
    period = "jumping the bar on the anvil or a floor plate"
    modern = "upsetting machine, or a bigger piece welded on"
    safety = (
        "Water on the hot end spits steam.",
        "Long bars whip when they are jumped: mind the feet and the people behind.",
    )

    where: Place = declare.place("Where", "The run that is hot; cool what is to stay thin.")
    target: Section | None = declare.section(
        "Target section", "What the run measures when done, where it is thickest.", required=False
    )
    shortening: float | None = declare.length("Shorter by", required=False)
    final_length: float | None = declare.length(
        "Final length", "How long the run is when done.", required=False
    )
    form: str = declare.choice(
        "Form",
        {"cylinder": "even all along", "cone": "thickest at one end", "barrel": "thickest in the middle"},
        default="cylinder",
    )
    thick_end: str = declare.choice(
        "Thickest end", ENDS, "Only where it is thickest at one end.", default="free"
    )

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from plain_bar(branch, span)
            if self.target is not None:
                yield from no_such_bar(branch, span, self.target, "target")
            yield from self._not_thicker(branch, span)
            length = self.length_for(span)
            if length is not None and not 0 < length < span.length:
                shortening = self.final_length is None
                yield stop(
                    "upset.not_shorter",
                    "The run is {long:length} now: upsetting cannot leave it {left:length} long.",
                    hint="Shorten it by less than {long:length}."
                    if shortening
                    else "Give a length below {long:length}.",
                    long=span.length,
                    left=length,
                    field="shortening" if shortening else "final_length",
                    source="geometry",
                )

    def _not_thicker(self, branch: Branch, span: Span) -> Iterator[Finding]:
        present = branch.volume_between(span.low, span.high) / span.length
        if self.target is not None and self.target.area < 0.98 * present:
            yield stop(
                "upset.target_not_thicker",
                "The target, {target:section}, is thinner than the {present:section} that is there.",
                hint="Choose a larger target, or draw out instead.",
                target=self.target,
                present=branch.sections_between(span.low, span.high)[0],
                field="target",
                source="geometry; 2 % from memory",
            )
        elif self.target is not None and present > 0:
            length = sum(one.length for one in self._upset(branch, span))
            if length > 1.02 * span.length:
                yield stop(
                    "upset.gets_longer",
                    "To {target:section} in this form the run comes to {left:length}, from {long:length}.",
                    hint="Choose a larger target, or let it be even all along.",
                    target=self.target,
                    left=length,
                    long=span.length,
                    field="target",
                    source="geometry; 2 % from memory",
                )

    def length_for(self, span: Span) -> float | None:
        """Return the length [mm] the run comes to where that is given, else None."""
        if self.final_length is not None:
            return self.final_length
        return None if self.shortening is None else span.length - self.shortening

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            piece = piece.reshaped(span, *self._upset(piece.branch(span.branch), span))
        return piece

    def _upset(self, branch: Branch, span: Span) -> tuple[Segment, ...]:
        volume = branch.volume_between(span.low, span.high)
        length = self.length_for(span)
        if self.target is not None:
            one_long = self._shaped(branch, span, self.target, 1.0)
            length = volume / sum(one.volume for one in one_long)
            return tuple(replace(one, length=one.length * length) for one in one_long)
        assert length is not None  # one of the three is always given
        shape = branch.largest_between(span.low, span.high)
        if self.form == "cylinder":
            return (uniform(shape.scaled(sqrt(volume / length / shape.area)), length),)

        def holds(swell: float) -> float:
            run = self._shaped(branch, span, shape.scaled(swell), length)
            return sum(one.volume for one in run)

        try:
            swell = rising_root(holds, volume, 1.0, MOST_SWELL)
        except ValueError:
            raise Unworkable(_no_such_form(branch, length)) from None
        return self._shaped(branch, span, shape.scaled(swell), length)

    def _shaped(self, branch: Branch, span: Span, thick: Section, length: float) -> tuple[Segment, ...]:
        """Return a run of this form and length [mm] between the sections at the ends of the range."""
        first, last = branch.sections_between(span.low, span.high)
        if self.form == "barrel":
            return Segment(first, thick, length / 2), Segment(thick, last, length / 2)
        if self.form == "cone":
            at_end = end_meant(branch, span, self.thick_end) == "end"
            return (Segment(first, thick, length) if at_end else Segment(thick, last, length),)
        return (uniform(thick, length),)

    def thickest(self, after: Piece) -> Section:
        """Return the largest section of the (first) finished run."""
        span = after.worked[0]
        return after.branch(span.branch).largest_between(span.low, span.high)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        yield from holes_worked(before, self.spans(before))
        span = self.spans(before)[0]
        branch = before.branch(span.branch)
        present = branch.largest_between(span.low, span.high)
        thickness = min(present.thickness, present.width)
        if span.length > FREE_LENGTH * thickness:
            yield caution(
                "upset.bends",
                "{hot:length} of hot bar is more than three times its thickness: it bends.",
                hint="Heat at most {most:length} at a time, and straighten between the blows.",
                hot=span.length,
                most=FREE_LENGTH * thickness,
                field="where",
                source="Forging Industry Association, machine heading; by hand it marks where to straighten",
            )
        growth = sqrt(self.thickest(after).area / present.area)
        if growth > GROWTH:
            yield caution(
                "upset.too_much_at_once",
                "It gets {growth:number} times as thick in one gathering; 1.5 is the most that stays sound.",
                hint="Gather in two steps, straightening between them.",
                growth=growth,
                source="Forging Industry Association, machine heading of lengths over 3 thicknesses",
            )
        if before.material.id == "wrought_iron" and present.shape in ("square", "flat"):
            yield caution(
                "upset.corners_split",
                "The corners of wrought iron split when it is upset below a welding heat.",
                hint="Work it near a welding heat.",
                source="common practice, no source",
            )

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        shorter = self.spans(before)[0].length - worked_length(after)
        lengths = {"shortening": shorter} if shorter > 0 else {}
        return {"target": self.thickest(after), "final_length": worked_length(after), **lengths}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        words = {
            "cylinder": "Upset {run} to {thick:section}: it comes to {long:length}.",
            "cone": "Upset {run} to {thick:section} at its thick end: it comes to {long:length}.",
            "barrel": "Upset {run} to {thick:section} in its middle: it comes to {long:length}.",
        }
        return say(
            words[self.form],
            run=range_words(before, self.where),
            thick=self.thickest(after),
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{thick:section} at the thickest, {long:length} long, straight",
            thick=self.thickest(after),
            long=worked_length(after),
        )

    examples = (
        Example(
            "ø16, the last 40 to ø20",
            before=bar(Section.round(16), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "target": {"shape": "round", "diameter": 20},
            },
            after=(Result(length=285.6, worked=25.6, section=Section.round(20)),),
            source="volume: 40 × 16² / 20² = 25.6",
        ),
        Example(
            "In the middle of the bar; what lies beyond comes nearer",
            before=bar(Section.square(12), 300, marks={"A": 200}),
            params={
                "where": {"on": "bar", "datum": "centre", "length": 30},
                "target": {"shape": "square", "side": 15},
            },
            after=(Result(length=289.2, worked=19.2, marks={"A": 189.2}),),
            source="volume: 30 × 12² / 15² = 19.2",
        ),
        Example(
            "By a shortening: the section follows",
            before=bar(Section.square(12), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 30}, "shortening": 8},
            after=(Result(length=292, worked=22, section=Section.square(14.013)),),
            source="volume: √(12² × 30 / 22) = 14.01",
        ),
        Example(
            "A cone is thickest at its end",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 30},
                "target": {"shape": "square", "side": 16},
                "form": "cone",
            },
            after=(Result(worked=21.9, end=Section.square(16), at={270: Section.square(12)}),),
            source="volume: 3 × 30 × 144 / (144 + 192 + 256) = 21.9",
        ),
        Example(
            "A barrel by its length",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "centre", "length": 30},
                "final_length": 22,
                "form": "barrel",
            },
            after=(Result(length=292, worked=22, at={146: Section.square(15.891)}),),
            source="volume: 22 (144 + 12 k + k²) / 3 = 30 × 144 at k = 15.89",
        ),
        Example(
            "Too long a run bends",
            before=bar(Section.square(10), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 45},
                "target": {"shape": "square", "side": 14},
            },
            after=(Result(worked=23.0),),
            cautions=("upset.bends",),
            source="45 / 10 = 4.5 thicknesses; volume: 45 × 10² / 14² = 23.0",
        ),
        Example(
            "With scale on, the same target comes out shorter",
            before=bar(Section.square(16), 496),
            params={
                "where": {"on": "bar", "datum": "end", "length": 30},
                "target": {"shape": "square", "side": 18},
            },
            heats=2,
            scale=0.03,
            after=(Result(length=489.3, worked=23.3),),
            source="recession first: 30 × 15.88² / 18² = 23.3",
        ),
        Example(
            "A thinner target is refused",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 30},
                "target": {"shape": "square", "side": 11},
            },
            refused=("upset.target_not_thicker",),
        ),
        Example(
            "To no length at all is refused",
            before=bar(Section.square(12), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 30}, "shortening": 30},
            refused=("upset.not_shorter",),
        ),
    )


def _no_such_form(branch: Branch, length: float) -> Finding:
    return stop(
        "upset.no_such_form",
        "The metal of this run of {branch} cannot take that form at {length:length} long.",
        hint="Give another length, or let it be even all along.",
        branch=branch.said,
        length=length,
        field="form",
        source="geometry",
    )
