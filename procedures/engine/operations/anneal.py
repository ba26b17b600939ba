"""Anneal: soften steel for filing, drilling or cold work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, note
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.place_words import range_words
from procedures.engine.shaping.treating import Treating, treated

SLOWLY = 0.6  # % of carbon, from which only very slow cooling softens it: from memory
BEDS = {
    "ash": "dry wood ash",
    "vermiculite": "vermiculite",
    "lime": "dry lime",
    "furnace": "the furnace, shut and off",
    "fire": "the fire, banked and left to die",
}


class Anneal(Treating):
    """Heats steel past its change and cools it as slowly as can be."""

    id = "anneal"
    title = "Anneal"
    help = (
        "Steel that was hardened, or that has cooled fast from the forge, is soft enough for a file or a"
        " drill after a slow cooling. The bed must be dry and deep, and warmed first where it is small."
    )
    synonyms = ("soften", "let down soft", "full anneal")
    heat = (800, 920)
    usual_heats = (1, 1)
    tools = ("fire or furnace with an even heat", "box of dry ash or vermiculite", "warming block")
    period = "overnight in ash, or in the dying fire"
    modern = "furnace that cools by programme"
    safety = (
        "Use insulation without asbestos; old lagging may hold some.",
        "Quicklime burns eyes and lungs: goggles and a mask, and keep it dry.",
        "Mark the box: what lies in it stays hot for a day.",
    )

    bed: str = declare.choice("Cooled in", BEDS, default="ash")

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        yield from self.below_change(piece, "it is only let down, as tempering does")

    def transform(self, piece: Piece) -> Piece:
        return treated(piece, self.spans(piece), lambda one: replace(one, state="soft", tempered_at=0))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        yield from self.out_of_band(
            before, "hard places stay in it", "the grain grows coarse and the skin loses carbon"
        )
        if before.material.carbon >= SLOWLY:
            yield note(
                "anneal.slowly",
                "{steel} softens only where it cools by no more than {rate:number} °C an hour down to"
                " {end:temperature}.",
                hint="A piece of its own size, heated with it, keeps the bed warm.",
                steel=before.material.title,
                rate=30,
                end=650,
                source="20 to 30 °C an hour from memory",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        where = BEDS[self.bed].partition(",")[0]
        return say(
            "Heat {run} evenly to {heat}, and {lay} {bed} until it is cold.",
            run=range_words(before, self.where),
            heat=self.heat_words(before),
            lay="leave it in" if self.bed in ("furnace", "fire") else "bury it deep in",
            bed=where,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("A file bites all along, as on mild steel")

    examples = (
        Example(
            "A bar softened in ash",
            before=bar(Section.square(20), 300, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "whole"}},
            after=(Result(length=300, section=Section.square(20)),),
            cautions=("anneal.slowly",),
            says=("800 °C to 820 °C", "dry wood ash"),
            source="nothing changes in size; its state is soft",
        ),
        Example(
            "A hardened end made soft again",
            before=bar(Section.flat(25, 6), 200, material_id="high_carbon"),
            first=(("harden", {"where": {"on": "bar", "datum": "end", "length": 60}}),),
            params={"where": {"on": "bar", "datum": "end", "length": 80}, "bed": "vermiculite"},
            after=(Result(length=200, worked=80),),
        ),
        Example(
            "With scale on",
            before=bar(Section.square(20), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 900},
            heats=1,
            scale=0.05,
            after=(Result(length=300, section=Section.square(19.97)),),
            tolerance=0.005,
            source="√(kp(900) / kp(1150)) = 0.288 by the scale formula; 0.05 × 0.288 a face",
        ),
        Example(
            "Too hot for its carbon",
            before=bar(Section.square(20), 300, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 950},
            after=(Result(length=300),),
            cautions=("anneal.too_hot",),
        ),
        Example(
            "Below its change it is only let down",
            before=bar(Section.square(20), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 600},
            refused=("anneal.below_change",),
        ),
    )
