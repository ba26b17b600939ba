"""Texture: put a pattern into the surface with a tool."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import no_metal

DEEPEST = 1 / 4  # of the thickness: from memory

PATTERNS = {
    "veins": "a mid-rib and side veins",
    "lines": "lines along the bar",
    "crossed": "crossed lines",
    "hammered": "hammer marks",
    "bark": "bark or grain",
    "stamped": "stamps",
    "other": "a pattern of its own",
}


class Texture(Operation):
    """Puts a pattern into the surface of a run; its metal is only pressed aside."""

    id = "texture"
    title = "Texture"
    family = "finish"
    help = (
        "No metal is lost and no size changes. Put it in after the forging, for later blows on the same run"
        " hammer it out, and before the bending where the tool could not reach in any more."
    )
    synonyms = ("vein", "stamp", "chase", "grain", "bark", "decorate", "line")
    heat = (705, 870)
    usual_heats = (1, 1)
    tools = ("blunt chisel, stamp or peen", "wire brush", "hammer")
    power_tools = ("texturing dies",)
    helper = "to hold or to strike top tools"
    period = "chisel, stamp and hammer"
    modern = "texturing dies"
    safety = ("Brush wires and scale fly: wear eye protection.",)

    where: Place = declare.place("Where", "The run that gets the pattern; it may be bent.")
    pattern: str = declare.choice("Pattern", PATTERNS, default="veins")
    depth: float = declare.length("Depth", default=0.5)
    tool: str = declare.text("Tool", "What it is put in with.", default="blunt chisel", limit=60)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            found = list(no_metal(branch, span))
            yield from found
            thinnest = min(branch.sections_along(span.low, span.high), key=lambda one: one.thickness)
            if not found and self.depth >= thinnest.thickness:
                yield stop(
                    "texture.through",
                    "A pattern {depth:size} deep goes through {section:section}.",
                    hint="Make it shallower.",
                    depth=self.depth,
                    section=thinnest,
                    field="depth",
                    source="geometry",
                )

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            piece = piece.changed(span, lambda one: replace(one, texture=self.pattern))
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        run = before.branch(span.branch)
        thin = min(one.thickness for one in run.sections_along(span.low, span.high))
        if self.depth > DEEPEST * thin:
            yield caution(
                "texture.too_deep",
                "{depth:size} deep in {thin:size} cracks the metal along the line.",
                hint="Keep to {most:size}.",
                depth=self.depth,
                thin=thin,
                most=DEEPEST * thin,
                field="depth",
                mend={"depth": DEEPEST * thin},
                source="a quarter of the thickness from memory",
            )
        if any(one.texture for one in run.segments_between(span.low, span.high)):
            yield note(
                "texture.over_another",
                "There is a pattern on part of this run already: the new one lies over it.",
                field="where",
                source="geometry",
            )
        yield note(
            "texture.brush_first",
            "Brush the scale off first: what is left on is driven in.",
            source="common practice, no source",
        )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "Brush {run} and put in {pattern} with a {tool}, {depth:size} deep.",
            run=range_words(before, self.where),
            pattern=PATTERNS[self.pattern],
            tool=self.tool or "tool",
            depth=self.depth,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("The pattern even to the eye, no cracks")

    examples = (
        Example(
            "Veins in a leaf",
            before=bar(Section.square(10), 200),
            first=(
                (
                    "spread",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 22},
                        "outline": "leaf",
                        "width": 22,
                        "thickness": 3.2,
                    },
                ),
            ),
            params={"where": {"on": "bar", "datum": "end", "length": 46.875}, "depth": 0.8},
            after=(Result(length=224.9, worked=46.875),),
            source="nothing changes in size: 200 - 22 + 2200 / (⅔ × 22 × 3.2) = 224.9",
        ),
        Example(
            "Bark along a bent bar",
            before=bar(Section.round(12), 300),
            first=(
                (
                    "bend",
                    {
                        "where": {"on": "bar", "datum": "centre"},
                        "angle": 90,
                        "inside_radius": 20,
                    },
                ),
            ),
            params={"where": {"on": "bar", "datum": "whole"}, "pattern": "bark"},
            after=(Result(length=300, section=Section.round(12)),),
        ),
        Example(
            "With scale on, its heat thins it",
            before=bar(Section.flat(30, 6), 100),
            params={"where": {"on": "bar", "datum": "whole"}, "pattern": "hammered", "tool": "ball peen"},
            heats=1,
            scale=0.05,
            after=(Result(length=100, section=Section.flat(29.9, 5.9)),),
            lost=2.82,
            source="recession: 100 (30 × 6 - 29.9 × 5.9) × 7.85e-3 = 2.8 g",
        ),
        Example(
            "Too deep cracks",
            before=bar(Section.flat(30, 3), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 60}, "depth": 1},
            after=(Result(length=200),),
            cautions=("texture.too_deep",),
            source="1 is more than a quarter of 3",
        ),
        Example(
            "A pattern through the metal is refused",
            before=bar(Section.flat(30, 3), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 60}, "depth": 3},
            refused=("texture.through",),
        ),
    )
