"""Harden: quench carbon steel from a red heat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.materials import LEAST_TO_HARDEN, Band, Material
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.place_words import range_words
from procedures.engine.shaping.treating import Treating, treated, treatments

CRACKS = 0.6  # % of carbon, from which water cracks it: from memory
STEP = 3.0  # times in area, from which a change of section cracks: from memory
CASE_BAND: Band = (780.0, 820.0)  # °C: a case holds about 0.8 % of carbon
MEDIA = {"water": "water", "brine": "brine", "oil": "oil", "air": "an air blast"}


class Harden(Treating):
    """Heats steel just past the loss of its magnetism and quenches it; it comes out hard and brittle."""

    id = "harden"
    title = "Harden"
    help = (
        "Only steel with 0.3 % of carbon and more hardens, or a case. Heat it evenly until a magnet lets go"
        " and 30 to 50 °C more, quench it at once, and temper it within the hour: as it is now it can crack"
        " by itself. Alloy steels go by their maker's sheet."
    )
    synonyms = ("quench", "quench harden", "flame harden")
    heat = (780, 870)
    usual_heats = (1, 1)
    tools = ("fire or furnace with an even heat", "magnet", "quench tank with a lid", "dry tongs")
    period = "water or brine, with the recipes of old books"
    modern = "the maker's data sheet, quenching oil, a furnace"
    safety = (
        "Oil takes fire: a metal tank with a lid, oil that is cool and deep, and never water in it.",
        "Dry tongs, a face shield and gloves: steam and hot oil spit.",
        "Put the whole red part under at once: what stands out of the oil lights it.",
    )

    medium: str = declare.choice("Quenched in", MEDIA, default="oil")
    agitation: str = declare.choice(
        "Moved",
        {"still": "held still", "up_down": "up and down", "stirred": "stirred round"},
        "Along its own length; sideways it warps.",
        default="up_down",
    )
    preheated: bool = declare.flag("Heated slowly to a dark red first")

    def band(self, steel: Material) -> Band:
        return steel.hardening or CASE_BAND

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        spans = self.spans(piece)
        if not piece.material.hardens and not all(one.case for one in treatments(piece, spans)):
            yield stop(
                "harden.too_little_carbon",
                "{steel} holds {carbon:number} % of carbon; it takes {least:number} % to harden.",
                hint="Case-harden it instead, or make it of another steel.",
                steel=piece.material.title,
                carbon=piece.material.carbon,
                least=LEAST_TO_HARDEN,
                source="0.3 % from memory",
            )
        else:
            yield from self.below_change(piece, "it comes out of the quench as soft as it went in")

    def transform(self, piece: Piece) -> Piece:
        return treated(piece, self.spans(piece), lambda one: replace(one, state="hard", tempered_at=0))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        yield from self.out_of_band(
            before, "it hardens in places or not at all", "the grain is coarse, and it cracks in the quench"
        )
        steel = before.material
        fierce = self.medium in ("water", "brine")
        if steel.carbon >= CRACKS and fierce:
            yield caution(
                "harden.water_cracks",
                "Water cracks steel with {carbon:number} % of carbon.",
                hint="Quench it in oil, warmed to the hand.",
                carbon=steel.carbon,
                field="medium",
                mend={"medium": "oil"},
                source="0.6 % from memory",
            )
        if steel.carbon >= CRACKS and not self.preheated:
            yield note(
                "harden.no_preheat",
                "Heated fast, {steel} is hot outside and cold inside, and cracks.",
                hint="Bring it to a dark red slowly, then on.",
                steel=steel.said,
                field="preheated",
                mend={"preheated": True},
                source="common practice, no source",
            )
        for span in self.spans(before):
            yield from self._where_it_cracks(before, span)

    def _where_it_cracks(self, before: Piece, span: Span) -> Iterator[Finding]:
        branch = before.branch(span.branch)
        areas = [one.area for one in branch.sections_along(span.low, span.high) if one.area > 0]
        if areas and max(areas) > STEP * min(areas):
            yield caution(
                "harden.uneven_section",
                "This run of {branch} goes from {most:area} to {least:area}: the thin part cools first and"
                " cracks.",
                hint="Quench the thick part first, or harden only the edge.",
                branch=branch.said,
                most=max(areas),
                least=min(areas),
                field="where",
                source="three times from memory",
            )
        holes = [one for one in branch.features if one.is_hole and span.low < one.at < span.high]
        if holes:
            yield caution(
                "harden.hole_cracks",
                "{hole} lies in the run that is quenched: cracks begin at it.",
                hint="Plug it with wet clay, or keep it out of the hot run.",
                hole=holes[0].said,
                field="where",
                source="common practice, no source",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        moved = {"still": "hold it still", "up_down": "move it up and down", "stirred": "stir it round"}
        return say(
            "{slowly} {run} evenly to {heat}, until a magnet lets go and a little more. Quench it at once in"
            " {medium} and {moved} until it is cool to the hand. Temper it within the hour.",
            slowly="Bring to a dark red slowly, then heat" if self.preheated else "Heat",
            run=range_words(before, self.where),
            heat=self.heat_words(before),
            medium=MEDIA[self.medium],
            moved=moved[self.agitation],
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("A sharp file skates over it; no cracks")

    examples = (
        Example(
            "The end of a chisel in oil",
            before=bar(Section.square(14), 180, material_id="high_carbon"),
            params={
                "where": {"on": "bar", "datum": "end", "length": 50},
                "preheated": True,
            },
            after=(Result(length=180, worked=50),),
            says=("780 °C to 820 °C", "in oil"),
        ),
        Example(
            "With scale on",
            before=bar(Section.square(14), 180, material_id="medium_carbon"),
            params={
                "where": {"on": "bar", "datum": "end", "length": 50},
                "temperature": 835,
                "medium": "water",
            },
            heats=1,
            scale=0.1,
            after=(Result(length=180, section=Section.square(13.962)),),
            tolerance=0.005,
            source="√(kp(835) / kp(1150)) = 0.190 by the scale formula; 0.1 × 0.190 a face",
        ),
        Example(
            "Mild steel that was given a case",
            before=bar(Section.square(12), 120),
            first=(
                (
                    "case_harden",
                    {
                        "where": {"on": "bar", "datum": "whole"},
                        "hours": 4,
                        "quench": "none",
                    },
                ),
            ),
            params={"where": {"on": "bar", "datum": "whole"}, "medium": "water"},
            after=(Result(length=120),),
        ),
        Example(
            "Water for high-carbon steel, over a shoulder",
            before=bar(Section.square(20), 180, material_id="high_carbon"),
            first=(
                (
                    "draw_out",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 20},
                        "target": {"shape": "square", "side": 10},
                    },
                ),
            ),
            params={
                "where": {"on": "bar", "datum": "end", "length": 120},
                "temperature": 880,
                "medium": "water",
            },
            after=(Result(length=240),),
            cautions=(
                "harden.water_cracks",
                "harden.uneven_section",
                "harden.no_preheat",
                "harden.too_hot",
            ),
        ),
        Example(
            "A hole in the hot run",
            before=bar(Section.flat(30, 8), 180, material_id="medium_carbon"),
            first=(("drill", {"where": [{"on": "bar", "datum": "end", "offset": 30}], "size": 8}),),
            params={"where": {"on": "bar", "datum": "end", "length": 60}},
            after=(Result(length=180),),
            cautions=("harden.hole_cracks",),
        ),
        Example(
            "Mild steel does not harden",
            before=bar(Section.square(14), 180),
            params={"where": {"on": "bar", "datum": "end", "length": 50}},
            refused=("harden.too_little_carbon",),
            source="S235 holds about 0.15 %",
        ),
        Example(
            "Nor does wrought iron",
            before=bar(Section.square(14), 180, material_id="wrought_iron"),
            params={"where": {"on": "bar", "datum": "end", "length": 50}},
            refused=("harden.too_little_carbon",),
        ),
        Example(
            "Steel that a magnet still holds",
            before=bar(Section.square(14), 180, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "temperature": 700},
            refused=("harden.below_change",),
        ),
    )
