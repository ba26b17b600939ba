"""Flatten: beat a run thinner, letting it get wider and longer as it will."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.formulas.flattening_spread import (
    coefficient_for_width,
    flatten,
    flatten_by_coefficient,
    spread_coefficient,
)
from calculators.roots import rising_root
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import holes_worked, plain_bar, thin_end

WIDEST = 8.0  # times as wide as thick: from memory
UNSURE = 0.05  # of the spread coefficient, either way
MOST_BITE = 10 / 3  # of the width: longer bites spread no more


class Flatten(Operation):
    """Flattens a run; how much of the metal goes to width is predicted from the bite, or given."""

    id = "flatten"
    title = "Flatten"
    family = "move"
    help = (
        "The volume is sure, how it divides into width and length is a prediction: a long bite along the bar"
        " makes width, a short one makes length. Try it once with your hammer and give the spread you found."
    )
    synonyms = ("beat flat", "thin")
    one_of = (("bite", "spread", "width"),)
    heat = (1000, 1200)
    usual_heats = (2, 1)
    tools = ("hammer", "flatter")
    power_tools = ("flat dies",)
    helper = "to hold the flatter on wide work"
    period = "hammer and flatter"
    modern = "power hammer, or strip bought at the size"
    safety = ("Wide thin work burns through gloves.",)

    where: Place = declare.place("Where", "The run to flatten.")
    thickness: float = declare.length("Thickness", "How thick it is when done.")
    bite: float | None = declare.length(
        "Bite", "Length of the hammer's mark along the bar; about 20 mm by hand.", required=False
    )
    spread: float | None = declare.number(
        "Spread",
        "Share of the thinning that goes to width: 0.1 to 0.2 by a fuller across the bar, 0.8 to 0.9 along.",
        required=False,
        least=0,
        most=1,
    )
    width: float | None = declare.length(
        "Wanted width", "From this follows what spread the tool must give.", required=False
    )
    passes: str = declare.choice(
        "Reckon the bite",
        {
            "one": "once, at the width it begins with",
            "many": "in many light passes, spreading less as it widens",
        },
        default="one",
    )

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from plain_bar(branch, span)
            thinnest = min(branch.sections_along(span.low, span.high), key=lambda one: one.thickness)
            if self.thickness >= thinnest.thickness:
                yield stop(
                    "flatten.not_thinner",
                    "{wanted:size} is not thinner than the {present:section} that is there.",
                    hint="Give a thickness below {limit:size}, or a range that is thicker throughout.",
                    wanted=self.thickness,
                    present=thinnest,
                    limit=thinnest.thickness,
                    field="thickness",
                    source="geometry",
                )
            elif self.width is not None:
                yield from self._width_out_of_reach(branch, span, self.width)

    def _width_out_of_reach(self, branch: Branch, span: Span, wanted: float) -> Iterator[Finding]:
        for section in branch.sections_along(span.low, span.high):
            least, most = _as_flat(section)[0], section.area / self.thickness
            if not least <= wanted <= most:
                yield stop(
                    "flatten.width_out_of_reach",
                    "{thickness:size} thick, it cannot come to {wanted:size} wide.",
                    hint="Choose a width from {least:size} to {most:size}, or draw out or upset first.",
                    wanted=wanted,
                    thickness=self.thickness,
                    least=least,
                    most=most,
                    field="width",
                    mend={"width": min(max(wanted, least), most)},
                    source="geometry",
                )
                return

    def flattened(self, section: Section, reach: float) -> Section:
        """Return what a section of the run becomes; `reach` [mm] is as long as a bite can be there."""
        width, thickness = _as_flat(section)
        if not width:
            return Section.upright(self.thickness)
        if self.width is not None:
            return Section.flat(self.width, self.thickness)
        if self.spread is not None:
            result = flatten_by_coefficient(thickness, width, self.thickness, self.spread)
        elif self.passes == "many":
            result = flatten(thickness, width, self.thickness, self._bite(reach))
        else:
            spread = spread_coefficient(self._bite(reach), width)
            result = flatten_by_coefficient(thickness, width, self.thickness, spread)
        return Section.flat(result.width, result.thickness)

    def _bite(self, reach: float) -> float:
        assert self.bite is not None  # one of the three is always given
        return min(self.bite, reach)  # no hammer marks more than the run it works

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            run = piece.branch(span.branch).segments_between(span.low, span.high)
            piece = piece.reshaped(span, *(self._beaten(one, span.length) for one in run))
        return piece

    def _beaten(self, segment: Segment, reach: float) -> Segment:
        start, end = self.flattened(segment.start, reach), self.flattened(segment.end, reach)
        wide = segment.widest
        more = self.flattened(wide, reach).width / wide.width if segment.bulge else 0.0
        return segment.reworked(start, end, segment.bulge * more)

    def widest(self, after: Piece) -> Section:
        """Return the widest section of the (first) finished run."""
        span = after.worked[0]
        return max(after.branch(span.branch).sections_along(span.low, span.high), key=lambda one: one.width)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        thickest = max(
            before.branch(span.branch).sections_along(span.low, span.high), key=lambda one: one.thickness
        )
        result = self.widest(after)
        yield from thin_end(result, "thickness")
        if result.width > WIDEST * result.thickness:
            yield caution(
                "flatten.too_wide",
                "{result:section} is more than eight times as wide as thick: it chills and cups.",
                hint="Take short heats, finish under a flatter, or leave it thicker.",
                result=result,
                field="thickness",
                source="from memory",
            )
        if self.bite is not None and self.bite < thickest.thickness / 3:
            yield caution(
                "flatten.laps",
                "A bite of {bite:length} is less than a third of the thickness, {thick:size}: laps form.",
                hint="Take a longer bite.",
                bite=self.bite,
                thick=thickest.thickness,
                field="bite",
                mend={"bite": thickest.thickness / 3},
                source="from memory",
            )
        yield from self._spread_note(thickest, result)
        yield from holes_worked(before, self.spans(before))

    def _spread_note(self, thickest: Section, result: Section) -> Iterator[Finding]:
        width, thickness = _as_flat(thickest)
        if self.width is not None:
            spread = coefficient_for_width(thickness, width, self.thickness, self.width)
            yield note(
                "flatten.spread_needed",
                "That width takes a spread of {spread:number}: {tool}.",
                spread=spread,
                tool=_tool_for(spread, width),
                field="width",
                source="Tomlinson and Stringer 1959, from memory; fullers from memory",
            )
            return
        unsure = (thickness / self.thickness) ** UNSURE
        yield note(
            "flatten.width_unsure",
            "It may come out {low:size} to {high:size} wide: a prediction, to be measured.",
            low=result.width / unsure,
            high=result.width * unsure,
            source="Tomlinson and Stringer 1959, from memory; the coefficient is good to 0.05",
        )

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {"width": self.widest(after).width}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        about = "" if self.width is not None else "about "
        return say(
            "Flatten {run} to {thickness:size}: it comes to {about}{width:size} wide, {long:length} long.",
            run=range_words(before, self.where),
            thickness=self.thickness,
            about=about,
            width=self.widest(after).width,
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{thickness:size} thick, {width:size} wide",
            thickness=self.thickness,
            width=self.widest(after).width,
        )

    examples = (
        Example(
            "□16, the last 50 to 6 thick under a hand hammer",
            before=bar(Section.square(16), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "thickness": 6, "bite": 20},
            after=(Result(worked=81.2, section=Section.flat(26.27, 6)),),
            source="spread 0.14 + 0.36 × 1.25 - 0.054 × 1.25² = 0.506; 16 (16/6)^0.506 = 26.3",
        ),
        Example(
            "The same in many light passes: narrower, as it spreads less the wider it gets",
            before=bar(Section.square(16), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 50},
                "thickness": 6,
                "bite": 20,
                "passes": "many",
            },
            after=(Result(worked=86.1, section=Section.flat(24.78, 6)),),
            source="the same law followed as the bar widens",
        ),
        Example(
            "By a wanted width: the spread it takes is reported",
            before=bar(Section.square(16), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "thickness": 6, "width": 30},
            after=(Result(worked=71.1, section=Section.flat(30, 6)),),
            cautions=("flatten.spread_needed",),
            source="volume: 50 × 16² / (30 × 6) = 71.1",
        ),
        Example(
            "A round counts as a flat as thick as its diameter and of its area",
            before=bar(Section.round(12), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "thickness": 4, "spread": 0.5},
            after=(Result(worked=86.6, section=Section.flat(16.32, 4)),),
            source="12 thick, 113.1 / 12 = 9.42 wide; 9.42 √3 = 16.3 wide, 50 √3 = 86.6 long",
        ),
        Example(
            "With scale on",
            before=bar(Section.square(16), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "thickness": 6, "spread": 0.5},
            heats=2,
            scale=0.05,
            after=(Result(worked=81.1, section=Section.flat(25.64, 6)),),
            source="recession first: 15.8 √(15.8/6) = 25.6 wide, 50 √(15.8/6) = 81.1 long",
        ),
        Example(
            "No thinner is refused",
            before=bar(Section.flat(30, 6), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "thickness": 6, "bite": 20},
            refused=("flatten.not_thinner",),
        ),
        Example(
            "More width than the metal can give is refused",
            before=bar(Section.square(16), 300),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "thickness": 6, "width": 50},
            refused=("flatten.width_out_of_reach",),
        ),
    )


def _as_flat(section: Section) -> tuple[float, float]:
    """Return the width and thickness [mm] of the flat of the same area and thickness; a round counts so."""
    return section.area / section.thickness, section.thickness


def _tool_for(spread: float, width: float) -> Sentence:
    """Return which tool gives a spread coefficient to a bar of this width [mm]."""
    least, most = width * 1e-6, width * MOST_BITE
    if spread > spread_coefficient(most, width):
        return say("work it with a fuller along the bar")
    if spread < spread_coefficient(least, width):
        return say("work it with a fuller across the bar, or keep the edges in")
    bite = rising_root(lambda bite: spread_coefficient(bite, width), spread, least, most)
    return say("a bite of {bite:length} along the bar gives it", bite=bite)
