"""Heat: take a heat without shaping."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.formulas.scale_depth import FIRES, depth_per_heat
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Point
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import THIN, thin_end
from procedures.engine.shaping.steel_checks import cold_for_steel

YELLOW = 1093.0  # °C: Chapman's table of heat colours
THIN_IN_YELLOW = 3.0  # mm: from memory
SLOWLY = 0.6  # % of carbon: common practice, no source


class Heat(Operation):
    """Heats a range: to soak it before a twist, to try again, or to wait. Only scale changes it."""

    id = "heat"
    title = "Heat"
    family = "prepare"
    help = "Nothing moves, but every heat costs scale. How many there are is said with the step."
    synonyms = ("reheat", "soak", "take a heat")
    heat = (850, 1250)
    usual_heats = (1, 1)
    tools = ("fire",)
    period = "charcoal and bellows"
    modern = "gas or induction; record it"
    safety = (
        "Carbon monoxide: see that the air is changed.",
        "Never leave a gas forge alight alone.",
        "Galvanised or plated steel never goes in the fire: its fume is poisonous.",
    )

    where: Place = declare.place("Where", "The range that gets hot.")
    temperature: float = declare.number("Heat", default=1000.0, least=150, most=1450, unit="°C")
    soak: float = declare.number(
        "Soak", "How long it lies in the fire once hot.", default=0.0, least=0, most=600, unit="min"
    )
    atmosphere: str = declare.choice(
        "Fire",
        {"reducing": "reducing: more fuel than air", "neutral": "neutral", "oxidising": "oxidising"},
        default="neutral",
    )
    reason: str = declare.text("What for", limit=120)

    def planned_heat(self, piece: Piece) -> tuple[float, float]:
        return self.temperature, self.temperature

    def laid_out(self, piece: Piece) -> tuple[Point, ...]:
        return ()

    def transform(self, piece: Piece) -> Piece:
        return piece.noting(*self.spans(piece))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        thinnest = min(
            before.branch(span.branch).sections_along(span.low, span.high),
            key=lambda one: min(one.thickness, one.width),
        )
        if self.temperature >= YELLOW:
            yield from self._thin(thinnest)
        if self.temperature > before.material.burns_at:
            yield caution(
                "heat.burns",
                "{steel} burns above {limit:temperature}; {given:temperature} is asked for.",
                hint="Stay below it.",
                steel=before.material.title,
                limit=before.material.burns_at,
                given=self.temperature,
                field="temperature",
                source="from memory",
            )
        yield from cold_for_steel(before.material, self.temperature, "temperature")
        if before.material.carbon >= SLOWLY:
            yield note(
                "heat.slowly",
                "{steel}: heat it slowly to a dark red first, then on.",
                steel=before.material.title,
                source="common practice, no source",
            )
        yield from self._soaked(before)

    def _thin(self, section: Section) -> Iterator[Finding]:
        thickness = min(section.thickness, section.width)
        yield from thin_end(section, "where")
        if THIN <= thickness < THIN_IN_YELLOW:
            yield caution(
                "heat.thin_in_a_yellow_fire",
                "{section:section} is less than {least:size} thick: a yellow heat burns it.",
                hint="Take a lower heat, or keep the thin part out of the fire.",
                section=section,
                least=THIN_IN_YELLOW,
                field="temperature",
                source="3 mm from memory",
            )

    def _soaked(self, before: Piece) -> Iterator[Finding]:
        """Say so when a long soak costs more scale than the heats of this step are reckoned with."""
        span = self.spans(before)[0]
        modulus = before.branch(span.branch).section_at(span.low).modulus
        usual = FIRES["average"].typical.soak
        if self.soak > FIRES["average"].high.soak:
            yield caution(
                "heat.long_soak",
                "After {soak:number} minutes scale is about {times:number} times as deep as reckoned.",
                hint="Count it as more heats, or take it out sooner.",
                soak=self.soak,
                times=round(depth_per_heat(modulus, self.soak) / depth_per_heat(modulus, usual), 1),
                field="soak",
                source="Davies, Simnad and Birchenall 1951, from memory: depth goes by the root of the time",
            )
        if self.atmosphere == "oxidising":
            yield caution(
                "heat.oxidising_fire",
                "An oxidising fire scales the work fast.",
                hint="Cut the air back until the flame just licks out, or bank the fire deeper.",
                field="atmosphere",
                source="common practice, no source",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        soak = say(", and soak it {soak:number} minutes", soak=self.soak) if self.soak else ""
        reason = f" {self.reason.rstrip('.')}." if self.reason else ""
        return say(
            "Heat {run} evenly to {heat:temperature}{soak}.{reason}",
            run=range_words(before, self.where),
            heat=self.temperature,
            soak=soak,
            reason=reason,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("The same colour all along, inside as well as out")

    examples = (
        Example(
            "One heat of □12 at 0.05 mm a face",
            before=bar(Section.square(12), 100),
            params={"where": {"on": "bar", "datum": "whole"}},
            heats=1,
            scale=0.05,
            after=(Result(length=100, section=Section.square(11.9)),),
            lost=1.88,
            source="recession: 100 (12² - 11.9²) × 7.85e-3 = 1.88 g, 1.66 %",
        ),
        Example(
            "Thin work in a yellow fire",
            before=bar(Section.flat(20, 2.5), 100),
            params={"where": {"on": "bar", "datum": "end", "length": 40}, "temperature": 1150},
            after=(Result(length=100, section=Section.flat(20, 2.5)),),
            cautions=("heat.thin_in_a_yellow_fire",),
        ),
        Example(
            "Hotter than the steel stands",
            before=bar(Section.square(12), 100, material_id="high_carbon"),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 1250, "soak": 20},
            after=(Result(length=100),),
            cautions=("heat.burns", "heat.slowly", "heat.long_soak"),
        ),
        Example(
            "Mild steel at the blue heat",
            before=bar(Section.square(12), 100),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 300},
            after=(Result(length=100),),
            cautions=("material.too_cold",),
        ),
        Example(
            "A range beyond the bar is refused",
            before=bar(Section.square(12), 100),
            params={"where": {"on": "bar", "datum": "end", "length": 140}},
            refused=("place.off_the_branch",),
        ),
        Example(
            "Heats that leave no metal are refused",
            before=bar(Section.flat(20, 2), 100),
            params={"where": {"on": "bar", "datum": "whole"}},
            heats=10,
            scale=0.1,
            refused=("scale.burnt_away",),
        ),
    )
