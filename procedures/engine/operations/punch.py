"""Punch: make a hole by driving most of its metal aside and shearing out a thin slug."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.formula import Answer
from calculators.formulas.punch_slug import PunchSlug
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, caution, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.branch import Branch, Feature
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.shaping.checks import curved_metal, folded_metal
from procedures.engine.shaping.hole_making import HoleMaking

_LEAST_WIDTH = 0.5  # of the depth: from memory
_MOST_WIDTH, _MOST_SHARE = 1.5, 0.5  # of the depth, and of the bar's width: from memory


class Punch(HoleMaking):
    """Makes through holes. What is not sheared out stands round them as a boss, unless dressed back."""

    id = "punch"
    title = "Punch"
    family = "cut"
    help = "Most of the hole's metal is driven aside and stands as a boss; only the slug is lost."
    synonyms = ("pierce", "punch a hole", "pritchel")
    heat = (1000, 1200)
    usual_heats = (2, 1)
    tools = ("hot punch", "bolster or pritchel hole", "bucket to cool the punch")
    power_tools = ("a light punch holder only",)
    helper = "to hold the bar"
    period = "punched round or square, the boss left standing"
    modern = "drilled: no boss, and the hole's metal is lost"
    safety = (
        "A punch stuck in the hole is never prised: cool it and knock it back.",
        "The slug is red hot under the anvil.",
    )

    slug: float = declare.number(
        "Slug", "How much of the hole's metal is sheared out.", default=30, least=0, most=100, unit="%"
    )
    dressed: bool = declare.flag(
        "Dressed", "The boss is hammered back to the bar's width: the bar gets longer."
    )

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            section = branch.section_at((span.low + span.high) / 2)
            if self.hole.width >= self.hole.across(section):
                yield self._too_wide(section)
            yield from folded_metal(branch, span)
            if self.dressed:
                yield from curved_metal(branch, span)

    def _too_wide(self, section: Section) -> Finding:
        return stop(
            "punch.no_wall_left",
            "A hole {width:size} wide leaves nothing of {section:section}, {across:size} wide there.",
            hint="Make it smaller, or spread or upset the bar first.",
            width=self.hole.width,
            section=section,
            across=self.hole.across(section),
            field="size",
            source="geometry",
        )

    def reckoned(self, section: Section) -> Answer:
        """Return the slug [mm³], the width at the hole and the lengthening if dressed. Raises Unworkable."""
        hole = self.hole
        if hole.width >= hole.across(section):
            raise Unworkable(self._too_wide(section))
        return PunchSlug(
            hole_area=hole.area,
            hole_width=hole.width,
            bar_width=hole.across(section),
            thickness=hole.through(section),
            share=self.slug / 100,
        ).answer()

    def made(self, piece: Piece, branch: Branch, at: float, name: str) -> Piece:
        hole, section = self.hole, branch.section_at(at)
        answer = self.reckoned(section)
        bulge = answer["width at the hole"].value - hole.across(section)
        feature = Feature(
            "punched", name, at, hole.shape, hole.length, hole.width, -answer.value, bulge, hole.face
        )
        if self.dressed:
            boss = hole.area * hole.through(section) - answer.value
            piece, middle = _lengthened(piece, branch, at, hole.length, boss)
            feature = replace(feature, at=middle, volume=-answer.value - boss, bulge=0.0)
        return piece.featured(branch.name, feature).losing("slug", answer.value)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        point = self.points(before)[0]
        section = before.branch(point.branch).section_at(point.at)
        hole, deep = self.hole, self.hole.through(section)
        wall = (hole.across(section) - hole.width) / 2
        if wall < hole.width / 2 and wall < deep:
            yield caution(
                "punch.thin_wall",
                "Only {wall:size} is left beside the hole before it is driven: it bursts.",
                hint="Upset a boss there first, or slit and drift it.",
                wall=wall,
                field="size",
                source="half the hole and one thickness from memory",
            )
        if hole.width < _LEAST_WIDTH * deep:
            yield caution(
                "punch.too_fine",
                "A punch {width:size} thick through {deep:size} heats and jumps up.",
                hint="Keep to {least:size} at least, or drill it.",
                width=hole.width,
                deep=deep,
                least=_LEAST_WIDTH * deep,
                field="size",
                source="half the depth from memory",
            )
        if hole.width > _MOST_WIDTH * deep and hole.width > _MOST_SHARE * hole.across(section):
            yield caution(
                "punch.better_drifted",
                "A hole {width:size} wide is over half of {section:section}.",
                hint="Slit and drift it: that loses no metal and keeps the walls.",
                width=hole.width,
                section=section,
                field="size",
                source="from memory",
            )
        yield from self.common_cautions(before)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        one = len(self.points(before)) == 1
        back = " Dress the boss back to the width of the bar." if self.dressed else ""
        edge = " from the edge" if self.face == "edge" else ""
        return say(
            f"Punch {{holes}}{edge} at {{places}}: half way, turn it over, "
            f"and back through over the bolster.{back}",
            holes=say("a hole, {hole:section}," if one else "holes, {hole:section},", hole=self.hole.section),
            places=self.places(before),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        span = after.worked[0]
        branch = after.branch(span.branch)
        middle = (span.low + span.high) / 2
        feature = min(branch.features, key=lambda one: abs(one.at - middle))
        return say(
            "hole {hole:section}; the bar stands {wide:size} wide there",
            hole=self.hole.section,
            wide=self.hole.across(branch.section_at(middle)) + feature.bulge,
        )

    examples = (
        Example(
            "Ø10 through 25 × 8: a slug of 1.48 g, and the bar stands 28.1 wide",
            before=bar(Section.flat(25, 8), 200),
            params={"where": [{"on": "bar", "datum": "start", "offset": 60}], "size": 10},
            after=(Result(length=200, worked=10, section=Section.flat(25, 8)),),
            lost=1.479,
            source="0.3 × π/4 × 10² × 8 = 188.5 mm³; 25 + 2 × 0.7 × 628.3 / (8 × 35) = 28.1",
        ),
        Example(
            "Dressed back to the width, the bar gets longer",
            before=bar(Section.flat(25, 8), 200, marks={"M": 150}),
            params={"where": [{"on": "bar", "datum": "start", "offset": 60}], "size": 10, "dressed": True},
            after=(Result(length=202.2, marks={"M": 152.2}),),
            lost=1.479,
            source="0.7 × 628.3 / (25 × 8) = 2.2",
        ),
        Example(
            "Several in one step, with scale on: thinner bar, smaller slugs",
            before=bar(Section.square(16), 300, marks={"A": 60, "B": 150, "C": 240}),
            params={
                "where": [{"on": "bar", "datum": "mark", "mark": name} for name in ("A", "B", "C")],
                "size": 7.5,
            },
            heats=1,
            scale=0.05,
            after=(Result(length=300, worked=7.5, section=Section.square(15.9)),),
            lost=3 * (1.654 + 0.989),
            cautions=("punch.too_fine",),
            source="each: 0.3 × π/4 × 7.5² × 15.9 = 210.7 mm³, and 39.5 mm of 256 - 252.81 mm² to scale",
        ),
        Example(
            "A hole as wide as the bar is refused",
            before=bar(Section.square(12), 200),
            params={"where": [{"on": "bar", "datum": "centre"}], "size": 12},
            refused=("punch.no_wall_left",),
        ),
        Example(
            "A hole over the end is refused",
            before=bar(Section.flat(25, 8), 200),
            params={"where": [{"on": "bar", "datum": "end", "offset": 3}], "size": 10},
            refused=("punch.breaks_out",),
        ),
        Example(
            "Two holes that run into each other are refused",
            before=bar(Section.flat(25, 8), 200),
            params={
                "where": [
                    {"on": "bar", "datum": "start", "offset": 60},
                    {"on": "bar", "datum": "start", "offset": 66},
                ],
                "size": 10,
            },
            refused=("punch.meets_another",),
        ),
    )


def _lengthened(piece: Piece, branch: Branch, at: float, length: float, volume: float) -> tuple[Piece, float]:
    """Return the piece with a volume [mm³] added by length round a hole, and where its middle comes."""
    low, high = max(at - length / 2, 0.0), min(at + length / 2, branch.length)
    run = branch.segments_between(low, high)
    times = 1 + volume / sum(one.volume for one in run)
    longer = [replace(one, length=one.length * times) for one in run]
    piece = piece.reshaped(Span(branch.name, low, high), *longer)
    return piece, low + (at - low) * times
