"""Temper: give hardened steel its toughness back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from calculators.formulas.temper_colour import NO_COLOUR, temper_name, temper_use
from calculators.materials import CHANGE, Band, Material
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.treatment import Treatment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.treating import Treating, treated, treatments

_BLUE = 320.0  # °C, above the colours that most tools are tempered at: from memory
LEAST = 180.0  # °C below which it stays brittle: from memory
USUAL: Band = (220.0, 300.0)
MEANS = {
    "oven": "in an oven",
    "block": "on a hot iron block",
    "drawn": "by the heat left behind the edge",
    "fire": "over the fire",
    "sand": "in hot sand",
}


class Temper(Treating):
    """Warms hardened steel to a colour or a temperature and holds it there: softer, and much tougher."""

    id = "temper"
    title = "Temper"
    help = (
        "Brighten the hardened part and warm it until the colour of its oxide says enough: straw for cutting"
        " edges, purple to blue for struck tools and springs. The colour goes by time and alloy too: an oven"
        " with a thermometer is surer. Never hammer it."
    )
    synonyms = ("let down", "draw the temper", "draw back", "run the colours")
    heat = (200, 320)
    usual_heats = (1, 1)
    tools = ("oven, hot block or clean fire", "emery cloth to brighten it", "tongs")
    period = "by the colour, in the heat left behind the edge"
    modern = "oven with a thermometer, an hour, twice"
    safety = (
        "Oil and its film smoke: air the shop.",
        "It looks cold at 300 °C: tongs or gloves.",
        "Wear eye protection: what is not yet tempered can burst.",
    )

    hold: float = declare.number(
        "Hold", "How long it stays at its heat.", default=0.0, least=0, most=600, unit="min"
    )
    means: str = declare.choice("Warmed", MEANS, default="oven")

    def band(self, steel: Material) -> Band:
        return USUAL

    def heat_in(self, piece: Piece) -> float:
        return self.temperature if self.temperature is not None else 250.0

    def planned_heat(self, piece: Piece) -> Band:
        heat = self.heat_in(piece)
        return heat, heat

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {"temperature": self.heat_in(before)}

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        heat = self.heat_in(piece)
        if heat >= CHANGE:
            yield stop(
                "temper.undone",
                "At {given:temperature} the steel changes, and nothing is left of its hardness.",
                hint="Stay far below {change:temperature}; most tools are tempered below {blue:temperature}.",
                blue=_BLUE,
                given=heat,
                change=CHANGE,
                field="temperature",
                source="the iron-carbon diagram, from memory",
            )

    def transform(self, piece: Piece) -> Piece:
        heat = self.heat_in(piece)

        def tempered(one: Treatment) -> Treatment:
            if not one.is_hardened:
                return one
            return replace(one, state="tempered", tempered_at=max(heat, one.tempered_at))

        return treated(piece, self.spans(piece), tempered)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        heat = self.heat_in(before)
        found = list(treatments(before, self.spans(before)))
        if not any(one.is_hardened for one in found):
            yield caution(
                "temper.not_hardened",
                "No step before this hardened the run: tempering does nothing to it.",
                hint="Harden it first, or say in the note that it came hardened.",
                field="where",
                source="the record of the steps before",
            )
        drawn = [one.tempered_at for one in found if one.state == "tempered" and one.tempered_at > heat]
        if drawn:
            yield note(
                "temper.already_softer",
                "It was let down at {was:temperature} already: a lower heat makes it no harder.",
                was=max(drawn),
                field="temperature",
                source="common practice, no source",
            )
        if heat < LEAST:
            yield caution(
                "temper.too_cold",
                "Below {least:temperature} hardened steel stays brittle.",
                hint="Take it to a straw, about {straw:temperature}, or more.",
                least=LEAST,
                straw=240,
                field="temperature",
                mend={"temperature": 240.0},
                source="180 °C from memory",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        heat = self.heat_in(before)
        colour = temper_name(heat)
        return say(
            "Brighten {run} and warm it {means} to {heat:temperature}{colour}{hold}. Then {cool}.",
            run=range_words(before, self.where),
            means=MEANS[self.means],
            heat=heat,
            colour="" if colour == NO_COLOUR else f", {colour}",
            hold=say(", and hold it there {hold:number} minutes", hold=self.hold) if self.hold else "",
            cool="quench it before the colour runs on" if self.means == "drawn" else "let it cool in air",
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        use = temper_use(self.heat_in(before))
        even = "The same colour all along" if not use else f"The same colour all along: right for {use}"
        return say(even)

    examples = (
        Example(
            "A chisel's edge to a dark straw",
            before=bar(Section.square(14), 180, material_id="high_carbon"),
            first=(("harden", {"where": {"on": "bar", "datum": "end", "length": 50}}),),
            params={
                "where": {"on": "bar", "datum": "end", "length": 50},
                "temperature": 249,
                "means": "drawn",
            },
            after=(Result(length=180, section=Section.square(14), worked=50),),
            says=("249 °C, dark straw", "punches, dies and cutting edges"),
            source="Dooley, 1919, and Ilgen, 1912: dark straw at 480 °F, 249 °C",
        ),
        Example(
            "A spring in the oven",
            before=bar(Section.flat(20, 3), 200, material_id="high_carbon"),
            first=(("harden", {"where": {"on": "bar", "datum": "whole"}}),),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 300, "hold": 30},
            after=(Result(length=200),),
            says=("very dark blue", "30 minutes", "springs"),
        ),
        Example(
            "A temper costs no scale",
            before=bar(Section.square(14), 180, material_id="high_carbon"),
            first=(("harden", {"where": {"on": "bar", "datum": "end", "length": 50}}),),
            params={"where": {"on": "bar", "datum": "end", "length": 50}},
            heats=1,
            scale=0.05,
            after=(Result(length=180, section=Section.square(14)),),
            lost=0,
            source="at 250 °C the oxide is a film: its colours are those of a film of 0.05 µm",
        ),
        Example(
            "Steel that was never hardened, hardly warmed",
            before=bar(Section.square(14), 180, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "temperature": 150},
            after=(Result(length=180),),
            cautions=("temper.not_hardened", "temper.too_cold"),
        ),
        Example(
            "A red heat is no tempering",
            before=bar(Section.square(14), 180, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "end", "length": 50}, "temperature": 780},
            refused=("temper.undone",),
        ),
    )
