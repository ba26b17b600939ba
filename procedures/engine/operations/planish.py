"""Planish: smooth the surface with light blows."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section, SectionError
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import plain_bar

LIGHT = 0.9  # of the thickness: what light blows leave


class Planish(Operation):
    """Smooths a run; where the thickness afterwards is given, the run gets a little longer."""

    id = "planish"
    title = "Planish"
    family = "finish"
    help = "Light blows at a dull heat. With a thickness given the width stays and the length follows."
    synonyms = ("dress", "smooth", "flatter")
    heat = (705, 870)
    usual_heats = (1, 1)
    tools = ("light hammer or flatter", "wire brush")
    power_tools = ("planishing dies",)
    helper = "to hold the flatter"
    period = "hammer and flatter"
    modern = "planishing dies, or an abrasive belt"
    safety = ("Brush wires fly: wear eye protection.",)

    where: Place = declare.place("Where", "The run to smooth.")
    thickness: float | None = declare.length(
        "Thickness after", "Left out: the surface only, nothing changes in size.", required=False
    )
    tool: str = declare.text("Tool", "What it is smoothed with.", default="flatter", limit=60)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        if self.thickness is None:
            list(self.spans(piece))  # raises where the place is not on the piece
            return
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from plain_bar(branch, span)
            for section in piece.branch(span.branch).sections_along(span.low, span.high):
                found = list(self._forbidden(section, self.thickness))
                yield from found
                if found:
                    break

    def _forbidden(self, section: Section, thickness: float) -> Iterator[Finding]:
        if thickness >= section.thickness:
            yield stop(
                "planish.not_thinner",
                "{wanted:size} is not thinner than the {section:section} that is there.",
                hint="Give a thickness below {limit:size}, or leave it out.",
                wanted=thickness,
                section=section,
                limit=section.thickness,
                field="thickness",
                mend={"thickness": None},
                source="geometry",
            )
            return
        try:
            section.resized(thickness=thickness)
        except SectionError:
            yield stop(
                "planish.no_faces",
                "{section:section} has no two faces to be brought to a thickness.",
                hint="Leave the thickness out, or flatten it first.",
                section=section,
                field="thickness",
                mend={"thickness": None},
                source="geometry",
            )

    def transform(self, piece: Piece) -> Piece:
        spans = self.spans(piece)
        if self.thickness is None:
            return piece.noting(*spans)
        for span in spans:
            run = piece.branch(span.branch).segments_between(span.low, span.high)
            piece = piece.reshaped(span, *(_smoothed(one, self.thickness) for one in run))
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        along = before.branch(span.branch).sections_along(span.low, span.high)
        present = max(along, key=lambda one: one.thickness)
        if self.thickness is not None and self.thickness < LIGHT * present.thickness:
            yield caution(
                "planish.too_deep",
                "From {present:section} to {thickness:size} is flattening: light blows will not do it.",
                hint="Flatten it first, and planish the last tenth.",
                present=present,
                thickness=self.thickness,
                field="thickness",
                source="common practice, no source",
            )
        yield note(
            "planish.brush_first",
            "Brush the scale off first: what is left on is hammered in.",
            source="common practice, no source",
        )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        run = range_words(before, self.where)
        tool = self.tool or "hammer"
        if self.thickness is None:
            return say("Brush {run} and smooth it with the {tool}.", run=run, tool=tool)
        return say(
            "Brush {run} and smooth it with the {tool} to {thickness:size}: it comes to {long:length}.",
            run=run,
            thickness=self.thickness,
            tool=tool,
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        if self.thickness is None:
            return say("Flat and smooth to the eye against the light")
        return say("{thickness:size} thick all along", thickness=self.thickness)

    examples = (
        Example(
            "30 × 6 planished to 5.7 gets longer",
            before=bar(Section.flat(30, 6), 100),
            params={"where": {"on": "bar", "datum": "whole"}, "thickness": 5.7},
            after=(Result(length=105.3, worked=105.3, section=Section.flat(30, 5.7)),),
            source="volume: 100 × 6 / 5.7 = 105.3",
        ),
        Example(
            "Without a thickness nothing changes in size",
            before=bar(Section.round(12), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "tool": "light hammer"},
            after=(Result(length=300, section=Section.round(12)),),
        ),
        Example(
            "With scale on, its heat thins it",
            before=bar(Section.flat(30, 6), 100),
            params={"where": {"on": "bar", "datum": "whole"}},
            heats=1,
            scale=0.05,
            after=(Result(length=100, section=Section.flat(29.9, 5.9)),),
            lost=2.82,
            source="recession: 100 (30 × 6 - 29.9 × 5.9) × 7.85e-3 = 2.8 g",
        ),
        Example(
            "Thicker than it is cannot be",
            before=bar(Section.flat(30, 6), 100),
            params={"where": {"on": "bar", "datum": "whole"}, "thickness": 6.5},
            refused=("planish.not_thinner",),
        ),
        Example(
            "A round has no faces to bring to a thickness",
            before=bar(Section.round(12), 100),
            params={"where": {"on": "bar", "datum": "whole"}, "thickness": 11.8},
            refused=("planish.no_faces",),
        ),
    )


def _smoothed(segment: Segment, thickness: float) -> Segment:
    start, end = segment.start.resized(thickness=thickness), segment.end.resized(thickness=thickness)
    return segment.reworked(start, end, segment.bulge)
