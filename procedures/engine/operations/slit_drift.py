"""Slit and drift: open a slit along the bar into a large hole, with no metal lost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.formulas.slit_length import CLOSING, STRETCH, slit_for
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution
from procedures.engine.operation import Example, Result
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import Branch, Feature
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.shaping.checks import curved_metal, folded_metal
from procedures.engine.shaping.hole_making import HoleMaking


class SlitDrift(HoleMaking):
    """Slits the bar lengthwise and opens the slit on a drift; the bar gets a little shorter there."""

    id = "slit_drift"
    title = "Slit and drift"
    family = "cut"
    help = "No metal is lost: the walls go round the drift, and the bar swells at the eye."
    synonyms = ("slit an eye", "hot slit", "mortise", "pierced bar", "drift an eye")
    heat = (1050, 1200)
    usual_heats = (4, 2)
    tools = ("slitting chisel", "round punch for the ends of the slit", "drifts", "bolster")
    power_tools = ("slitting tool and drifts under the hammer",)
    helper = "to hold, or to strike"
    period = "preferred for the eyes of hafted tools and for pierced bars"
    modern = "drilled and milled: the hole's metal is lost and the bar does not swell"
    safety = ("A drift stuck fast is cooled and knocked out from behind, never prised.",)

    name: str = declare.name("Name", "Several are numbered.", default="eye")
    stretch: float = declare.number(
        "Stretch of the walls",
        "How much longer the lips of the slit get. The trade's half perimeter less 5 % is 5.3.",
        default=100 * STRETCH,
        least=0,
        most=30,
        unit="%",
    )
    closing: float = declare.number(
        "Closing",
        "How much of slit less hole the bar gets shorter by. No rule is published: make a test piece.",
        default=100 * CLOSING,
        least=0,
        most=100,
        unit="%",
    )

    @property
    def slit(self) -> float:
        """Length of the slit [mm]."""
        return slit_for(self.hole.perimeter, self.stretch / 100)

    @property
    def shortening(self) -> float:
        """How much shorter the bar gets [mm]; nothing where the hole is longer than its slit."""
        return max(self.closing / 100 * (self.slit - self.hole.length), 0.0)

    def wall(self, section: Section) -> float:
        """Return how thick [mm] each wall comes out."""
        return self.hole.across(section) / 2 / (1 + self.stretch / 100)

    def reach(self, piece: Piece) -> float:
        return max(self.slit, self.hole.length) / 2

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        for span in self.spans(piece):
            yield from curved_metal(piece.branch(span.branch), span)
            yield from folded_metal(piece.branch(span.branch), span)

    def made(self, piece: Piece, branch: Branch, at: float, name: str) -> Piece:
        hole, section, reach = self.hole, branch.section_at(at), self.reach(piece)
        low, high = max(at - reach, 0.0), min(at + reach, branch.length)
        run = branch.segments_between(low, high)
        times = 1 - self.shortening / (2 * reach)
        volume = sum(one.volume for one in run) * (1 - times)
        piece = piece.reshaped(
            Span(branch.name, low, high), *(replace(one, length=one.length * times) for one in run)
        )
        bulge = hole.width + 2 * self.wall(section) - hole.across(section)
        middle = low + (at - low) * times
        feature = Feature(
            "drifted", name, middle, hole.shape, hole.length, hole.width, volume, bulge, hole.face
        )
        return piece.featured(branch.name, feature)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        point = self.points(before)[0]
        section = before.branch(point.branch).section_at(point.at)
        wall = self.wall(section)
        if wall < self.hole.width / 2 and wall < self.hole.through(section):
            yield caution(
                "slit_drift.thin_wall",
                "The walls come out {wall:size} thick round a hole {width:size} wide: they tear.",
                hint="Upset the bar there first, or make the hole smaller.",
                wall=wall,
                width=self.hole.width,
                field="size",
                source="half the hole and one thickness: common practice, no source",
            )
        yield from self.common_cautions(before)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        edge = " from the edge" if self.face == "edge" else ""
        return say(
            f"At {{places}} slit {{slit:length}} along the middle{edge}, a round hole punched at both ends; "
            "open the slit and drift it to {hole:section}.",
            slit=self.slit,
            places=self.places(before),
            hole=self.hole.section,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        span = after.worked[0]
        section = after.branch(span.branch).section_at((span.low + span.high) / 2)
        wall = self.wall(section)
        return say(
            "hole {hole:section}, both walls {wall:size}, {wide:size} over the eye",
            hole=self.hole.section,
            wall=wall,
            wide=self.hole.width + 2 * wall,
        )

    examples = (
        Example(
            "Ø20 in □25: a slit of 28.6, the bar 4.3 shorter, nothing lost",
            before=bar(Section.square(25), 300, marks={"E": 120, "M": 250}),
            params={"where": [{"on": "bar", "datum": "mark", "mark": "E"}], "size": 20},
            after=(Result(length=295.7, worked=20, marks={"M": 245.7, "E": 117.9}),),
            lost=0,
            source="π × 20 / 2.2 = 28.6; 0.5 × (28.6 - 20) = 4.3; wall 12.5 / 1.1 = 11.4; eye 42.7",
        ),
        Example(
            "A square eye by the trade's rule: two sides less 5 %",
            before=bar(Section.square(25), 300),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "shape": "square",
                "size": 16,
                "stretch": 5.263,
                "closing": 0,
            },
            after=(Result(length=300, worked=16),),
            source="2 × 16 × 0.95 = 30.4 of slit; with no closing the bar keeps its length",
        ),
        Example(
            "Thin walls are cautioned",
            before=bar(Section.flat(20, 20), 300),
            params={"where": [{"on": "bar", "datum": "centre"}], "size": 24},
            cautions=("slit_drift.thin_wall",),
            after=(Result(length=300 - 0.5 * (24 * 3.14159 / 2.2 - 24)),),
        ),
        Example(
            "A slit longer than the bar is refused",
            before=bar(Section.square(25), 30),
            params={"where": [{"on": "bar", "datum": "centre"}], "size": 24},
            refused=("slit_drift.breaks_out",),
        ),
    )
