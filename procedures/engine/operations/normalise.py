"""Normalise: refine and even out the grain after forging."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.formulas.cooling_time import BLACK, still_air_seconds
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.place_words import range_words
from procedures.engine.shaping.treating import Treating, thickest, treated

CATCHES = 0.4  # % of carbon, from which a draught hardens it in places: from memory
COOLING = {
    "air": "still air, hung up or laid on dry brick",
    "hearth": "the edge of the hearth, out of any draught",
    "draught": "moving air",
}


class Normalise(Treating):
    """Heats steel until its grain forms anew, and lets it cool in air; nothing else changes."""

    id = "normalise"
    title = "Normalise"
    help = (
        "Forging leaves a coarse and uneven grain. Heated just past its change and cooled in still air, steel"
        " is even again: once after ordinary forging, three times before a blade or a tool is hardened. Plan"
        " a heat for each time."
    )
    synonyms = ("normalize", "refine the grain", "thermal cycle", "stress relieve")
    heat = (800, 920)
    usual_heats = (1, 1)
    tools = ("fire or furnace with an even heat", "magnet", "hook or dry brick to cool on")
    period = "laid at the edge of the hearth to cool"
    modern = "furnace with a pyrometer"
    safety = (
        "A piece that is black can still be at 400 °C: put a mark or a sign by it.",
        "Hang or lay it where nobody takes it for cold.",
    )

    cycles: int = declare.number("Times", "How often in a row.", default=1, least=1, most=5, whole=True)
    cooling: str = declare.choice("Cooled in", COOLING, default="air")

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        yield from self.below_change(piece, "its grain stays as it was")

    def transform(self, piece: Piece) -> Piece:
        return treated(piece, self.spans(piece), lambda one: replace(one, state="normalised", tempered_at=0))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        yield from self.out_of_band(before, "part of the old grain stays", "the grain grows coarse again")
        if self.cooling == "draught" and before.material.carbon > CATCHES:
            yield caution(
                "normalise.draught",
                "Moving air, or cold iron that touches it, hardens {steel} in places.",
                hint="Let it cool in still air, on dry brick.",
                steel=before.material.said,
                field="cooling",
                mend={"cooling": "air"},
                source="0.4 % of carbon from memory",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        seconds = still_air_seconds(thickest(before, self.spans(before)), self.heat_in(before), BLACK)
        return say(
            "Heat {run} evenly to {heat} and let it cool in {air}: about {time:seconds} to black{times}.",
            run=range_words(before, self.where),
            heat=self.heat_words(before),
            air=COOLING[self.cooling].partition(",")[0],
            time=max(round(seconds, -1), 10),  # nobody times it closer
            times=f", {self.cycles} times in a row" if self.cycles > 1 else "",
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("A magnet lets go all along before it leaves the fire")

    examples = (
        Example(
            "A bar of □20 from 900 °C",
            before=bar(Section.square(20), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 900},
            after=(Result(length=300, section=Section.square(20)),),
            says=("900 °C", "4 min 50 s"),
            source="lumped body: 58 s for each mm of area over perimeter, 5 mm, 290 s to 500 °C",
        ),
        Example(
            "Three times before a tool is hardened, the heat left to the steel",
            before=bar(Section.flat(30, 6), 200, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "end", "length": 120}, "cycles": 3},
            after=(Result(length=200, worked=120),),
            says=("800 °C to 820 °C", "3 times in a row"),
        ),
        Example(
            "With scale on: at 900 °C a third of what a forging heat takes",
            before=bar(Section.square(20), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 900},
            heats=1,
            scale=0.05,
            after=(Result(length=300, section=Section.square(19.97), worked=300),),
            tolerance=0.005,
            source="√(kp(900) / kp(1150)) = 0.288 by the scale formula; 0.05 × 0.288 a face",
        ),
        Example(
            "Moving air and a heat too high",
            before=bar(Section.flat(30, 6), 200, material_id="medium_carbon"),
            params={
                "where": {"on": "bar", "datum": "whole"},
                "temperature": 950,
                "cooling": "draught",
            },
            after=(Result(length=200),),
            cautions=("normalise.draught", "normalise.too_hot"),
        ),
        Example(
            "A heat that is not through",
            before=bar(Section.square(20), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 800},
            after=(Result(length=300),),
            cautions=("normalise.too_cold",),
        ),
        Example(
            "Below its change nothing is normalised",
            before=bar(Section.square(20), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 650},
            refused=("normalise.below_change",),
        ),
    )
