"""Case-harden: put a hard skin on mild steel or wrought iron."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.formulas.case_depth import case_depth, hours_for
from calculators.materials import LEAST_TO_HARDEN, Band, Material
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.treatment import Treatment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.treating import Treating, thinnest, treated

BAND: Band = (880.0, 930.0)
KNOWN: Band = (850.0, 950.0)  # °C that the formula is for
THROUGH = 1 / 4  # of the thickness: from memory
PACKS = {
    "bone_charcoal": "bone and wood charcoal",
    "leather": "charred leather and hoof",
    "compound": "a bought compound",
}
QUENCHES = {"water": "water", "oil": "oil", "none": "nothing: it cools in its box"}


class CaseHarden(Treating):
    """Soaks iron in carbon at a red heat until its skin is steel, then quenches it."""

    id = "case_harden"
    title = "Case-harden"
    help = (
        "Packed in charcoal in a closed box the skin takes up carbon, ever more slowly: twice the depth takes"
        " four times as long. Do it after all forging and filing. Coat with clay what has to stay soft."
    )
    synonyms = ("pack harden", "carburise", "carburize", "bone and charcoal", "skin harden")
    heat = BAND
    usual_heats = (1, 1)
    tools = ("iron box with a lid, luted with clay", "charcoal or compound", "quench tank", "dry tongs")
    period = "bone, leather and hoof in a luted box"
    modern = "bought compound, or a contractor's gas furnace"
    safety = (
        "Never use cyanide: neither bought nor found in an old shop.",
        "The box gives off carbon monoxide: work under a hood or outside.",
        "Leave the box a vent: sealed tight it bursts.",
        "Dry everything: wet charcoal or clay spits steam.",
    )

    hours: float = declare.number("Hours", "At the heat.", default=4.0, above=0, most=100, unit="h")
    pack: str = declare.choice("Packed in", PACKS, default="bone_charcoal")
    quench: str = declare.choice("Quenched in", QUENCHES, default="water")

    def band(self, steel: Material) -> Band:
        return BAND

    def heat_in(self, piece: Piece) -> float:
        return self.temperature if self.temperature is not None else 900.0

    def scales_at(self, piece: Piece) -> float | None:
        return 0.0  # in its box no air gets at it

    def depth(self, piece: Piece) -> float:
        """Return the total depth of the case [mm]."""
        return case_depth(self.heat_in(piece), self.hours)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        yield from self.below_change(piece, "its skin takes up no carbon")
        if piece.material.hardens:
            yield stop(
                "case_harden.hardens_anyway",
                "{steel} holds {carbon:number} % of carbon: it hardens through without a case.",
                hint="Harden and temper it.",
                steel=piece.material.title,
                carbon=piece.material.carbon,
                source=f"{LEAST_TO_HARDEN} % from memory",
            )

    def transform(self, piece: Piece) -> Piece:
        depth = self.depth(piece)

        def cased(one: Treatment) -> Treatment:
            state = one.state if self.quench == "none" else "hard"
            together = (depth**2 + one.case**2) ** 0.5  # the hours of both add up
            return replace(one, state=state, tempered_at=0, case=together)

        return treated(piece, self.spans(piece), cased)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        spans = self.spans(before)
        depth, thin, heat = self.depth(before), thinnest(before, spans), self.heat_in(before)
        if depth > THROUGH * thin:
            yield caution(
                "case_harden.through",
                "A case of {depth:size} on {thin:size} is hard nearly through: it breaks like glass.",
                hint="Give it {hours:seconds} for a case of {fits:size}, or mask the thin part.",
                depth=depth,
                thin=thin,
                fits=THROUGH * thin,
                hours=60 * round(60 * hours_for(heat, THROUGH * thin)),
                field="hours",
                source="a quarter of the thickness from memory",
            )
        if not KNOWN[0] <= heat <= KNOWN[1]:
            yield caution(
                "case_harden.out_of_band",
                "The depth of the case is known from {low:temperature} to {high:temperature}; this is"
                " {given:temperature}.",
                hint="Take it to about {usual:temperature}.",
                low=KNOWN[0],
                high=KNOWN[1],
                given=heat,
                usual=900,
                field="temperature",
                mend={"temperature": 900.0},
                source="Harris, 1943, as quoted; its limits from memory",
            )
        joints = [one for one in before.joints if any(one.on(span.branch) for span in spans)]
        if joints:
            yield note(
                "case_harden.mask",
                "Mask the {joint} with clay: a seat or a thread that is hard cracks.",
                joint=joints[0].said,
                field="where",
                source="common practice, no source",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "Pack {run} in {pack} in a luted box, and keep it {hours:seconds} at {heat:temperature}."
            " {quench} The case is {depth:size} deep.",
            run=range_words(before, self.where),
            pack=PACKS[self.pack],
            hours=3600 * self.hours,
            heat=self.heat_in(before),
            quench="Let it cool in the box."
            if self.quench == "none"
            else f"Quench it in {QUENCHES[self.quench]}.",
            depth=self.depth(before),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        if self.quench == "none":
            return say("Break a test piece that lay in the box: the case shows as a fine grey rim")
        return say("A sharp file skates over it")

    examples = (
        Example(
            "Four hours at 925 °C",
            before=bar(Section.square(12), 120),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 925},
            after=(Result(length=120, section=Section.square(12)),),
            says=("The case is 1.3 mm deep",),
            source="Harris: 25.4 × 31.6 × √4 × 10^(-6700 / 2157) = 1.26",
        ),
        Example(
            "One hour at 925 °C",
            before=bar(Section.square(12), 120),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 925, "hours": 1},
            after=(Result(length=120),),
            says=("The case is 0.63 mm deep",),
            source="Harris: 0.63",
        ),
        Example(
            "Four hours at 900 °C; in its box it takes no scale",
            before=bar(Section.square(12), 120, material_id="wrought_iron"),
            params={"where": {"on": "bar", "datum": "whole"}},
            heats=1,
            scale=0.05,
            after=(Result(length=120, section=Section.square(12)),),
            lost=0,
            says=("The case is 1.1 mm deep",),
            source="Harris: 1.08",
        ),
        Example(
            "Hard nearly through",
            before=bar(Section.flat(20, 3), 120),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 960, "hours": 8},
            after=(Result(length=120),),
            cautions=("case_harden.through", "case_harden.out_of_band"),
        ),
        Example(
            "High-carbon steel needs no case",
            before=bar(Section.square(12), 120, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "whole"}},
            refused=("case_harden.hardens_anyway",),
        ),
        Example(
            "Below its change iron takes up no carbon",
            before=bar(Section.square(12), 120),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 700},
            refused=("case_harden.below_change",),
        ),
    )
