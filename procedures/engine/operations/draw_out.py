"""Draw out: make a run thinner and longer at one section."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import sqrt
from typing import Any

from calculators.sections import Section, SectionError
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import uniform
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import (
    curved_metal,
    folded_metal,
    holes_worked,
    no_metal,
    no_such_bar,
)


class DrawOut(Operation):
    """Draws a run out to a section, or to a length from which the section follows."""

    id = "draw_out"
    title = "Draw out"
    family = "move"
    help = "Volume stays the same, so halving the area doubles the length."
    synonyms = ("draw down", "fuller down", "lengthen")
    one_of = (("target", "final_length", "reduction"),)
    heat = (1000, 1200)
    usual_heats = (4, 2)
    tools = ("hammer", "anvil horn or fuller to lengthen, face to finish")
    power_tools = ("drawing dies",)
    helper = "a striker on more than 20 mm"
    period = "hammer, horn and fullers; a striker on heavy bar"
    modern = "power hammer, or bar bought at the size"
    safety = (
        "Scale flies: wear eye protection.",
        "Do not hammer thin ends cold: they rebound.",
    )

    where: Place = declare.place("Where", "The run to draw out.")
    target: Section | None = declare.section(
        "Target section", "What the run measures when done.", required=False
    )
    final_length: float | None = declare.length(
        "Final length", "How long the run is when done; its section follows.", required=False
    )
    reduction: float | None = declare.number(
        "Reduction", "How much of the area goes.", required=False, above=0, most=95, unit="%"
    )
    hold: str = declare.choice(
        "Keep",
        {"shape": "the shape", "width": "the width", "thickness": "the thickness"},
        "When the section follows from the length: what stays as it is.",
        default="shape",
    )

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from curved_metal(branch, span)
            yield from folded_metal(branch, span)
            if branch.volume_between(span.low, span.high) <= 0:
                yield from no_metal(branch, span)
                continue
            present = branch.volume_between(span.low, span.high) / span.length
            first, _ = branch.sections_between(span.low, span.high)
            if self.target is not None:
                yield from no_such_bar(branch, span, self.target, "target")
            if self.target is not None and self.target.area > 1.02 * present:
                yield stop(
                    "draw_out.target_not_thinner",
                    "The target, {target:section}, holds more metal than {present:section}, which is there.",
                    hint="Choose a smaller target, or upset instead.",
                    field="target",
                    target=self.target,
                    present=first,
                    source="geometry; 2 % from memory",
                )
            if self.final_length is not None and self.final_length < span.length:
                yield stop(
                    "draw_out.not_longer",
                    "The run is {long:length} now; it cannot be drawn out to {final:length}.",
                    hint="Give a length above {long:length}, or upset instead.",
                    field="final_length",
                    long=span.length,
                    final=self.final_length,
                    source="geometry",
                )
            try:
                self.section_for(piece, span)
            except SectionError as fault:
                yield stop(
                    "draw_out.cannot_keep",
                    "{fault}",
                    hint="Keep the shape, or give the target section.",
                    fault=str(fault),
                    field="hold",
                    source="geometry",
                    mend={"hold": "shape"},
                )

    def section_for(self, piece: Piece, span: Span) -> Section:
        """Return the section that the run is drawn to."""
        if self.target is not None:
            return self.target
        branch = piece.branch(span.branch)
        volume = branch.volume_between(span.low, span.high)
        shape = branch.largest_between(span.low, span.high)
        if self.final_length is not None:
            area = volume / self.final_length
        else:
            area = volume / span.length * (1 - (self.reduction or 0) / 100)
        ratio = area / shape.area
        if self.hold == "width":
            return shape.resized(thickness=shape.thickness * ratio)
        if self.hold == "thickness":
            return shape.resized(width=shape.width * ratio)
        return shape.scaled(sqrt(ratio))

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            section = self.section_for(piece, span)
            volume = piece.branch(span.branch).volume_between(span.low, span.high)
            piece = piece.reshaped(span, uniform(section, volume / section.area))
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        for span in self.spans(before)[:1]:
            branch = before.branch(span.branch)
            ratio = branch.volume_between(span.low, span.high) / span.length / self._after(after).area
            if ratio > 4:
                yield caution(
                    "draw_out.long_draw",
                    "The area goes down {ratio:number} times in this one step.",
                    hint="Plan it as two steps with a measure between them.",
                    ratio=round(ratio, 1),
                    source="from memory",
                )
            section = self._after(after)
            if section.width / section.thickness > 2.5 and branch.section_at(span.low).width > section.width:
                yield caution(
                    "draw_out.edge_buckles",
                    "Drawing in the width of {section:section} on edge buckles it.",
                    hint="Dress it flat after every second blow.",
                    section=section,
                    source="from memory",
                )
        yield from holes_worked(before, self.spans(before))

    def _after(self, after: Piece) -> Section:
        span = after.worked[0]
        return after.branch(span.branch).sections_between(span.low, span.high)[0]

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        span = self.spans(before)[0]
        present = before.branch(span.branch).volume_between(span.low, span.high) / span.length
        gone = 100 * (1 - self._after(after).area / present)
        share = {"reduction": round(gone, 1)} if 0 < gone < 95 else {}
        return {"target": self._after(after), "final_length": worked_length(after), **share}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "Draw {run} out to {section:section}: it comes to {long:length}.",
            run=range_words(before, self.where),
            section=self._after(after),
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{section:section} along all {long:length}", section=self._after(after), long=worked_length(after)
        )

    examples = (
        Example(
            "□20 drawn to □12: the same metal in less area is longer",
            before=bar(Section.square(20), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 60},
                "target": {"shape": "square", "side": 12},
            },
            after=(Result(length=406.7, section=Section.square(12), worked=166.7),),
            source="volume: 60 × 20² / 12² = 166.7",
        ),
        Example(
            "Marks stay where their metal goes",
            before=bar(Section.square(12), 300, marks={"A": 220, "B": 275}),
            params={
                "where": {"on": "bar", "datum": "end", "length": 50},
                "target": {"shape": "square", "side": 10},
            },
            after=(Result(length=322, marks={"A": 220, "B": 286}),),
            source="volume: 250 + 25 × 12² / 10² = 286",
        ),
        Example(
            "To a length: the section follows",
            before=bar(Section.square(20), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 60}, "final_length": 100},
            after=(Result(length=340, section=Section.square(15.492), worked=100),),
            source="volume: √(60 × 20² / 100) = 15.49",
        ),
        Example(
            "Width held: only the thickness goes",
            before=bar(Section.flat(30, 8), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 50},
                "final_length": 80,
                "hold": "width",
            },
            after=(Result(length=230, section=Section.flat(30, 5), worked=80),),
            source="volume: 8 × 50 / 80 = 5.0",
        ),
        Example(
            "With scale on, the same target comes out shorter",
            before=bar(Section.square(20), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 60},
                "target": {"shape": "square", "side": 12},
            },
            heats=2,
            scale=0.05,
            after=(Result(worked=163.3, section=Section.square(12)),),
            source="recession of 2 × 0.05 mm a face first: 60 × 19.8² / 12² = 163.35",
        ),
        Example(
            "A thicker target is refused",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 60},
                "target": {"shape": "square", "side": 20},
            },
            refused=("draw_out.target_not_thinner",),
        ),
    )
