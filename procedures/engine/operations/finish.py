"""Finish: protect and colour the surface."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.pieces.treatment import COAT_BURNS
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import no_metal
from procedures.engine.shaping.treating import treated

GLOWS = 500.0  # °C: no coat is put on hotter


@dataclass(frozen=True)
class Coat:
    """A coat: its title, how it is said of a piece, the heat it goes on at [°C] and the places it suits."""

    title: str
    said: str
    verb: str
    heat: float | None
    suits: tuple[str, ...]


COATS = {
    "wax": Coat("Wax", "waxed", "rub {run} with wax", 180, ("indoors", "food")),
    "linseed": Coat("Linseed oil", "oiled with linseed", "brush {run} with linseed oil", 200, ("indoors",)),
    "food_oil": Coat(
        "Food-safe oil, baked on",
        "seasoned with oil",
        "bake a thin film of oil on {run}",
        230,
        ("food", "fire", "indoors"),
    ),
    "oil": Coat("Oil, a thin film", "oiled", "wipe {run} with oil", None, ("indoors", "fire")),
    "blacken": Coat("Oil burnt black", "oil-blackened", "blacken {run} in oil", 250, ("indoors", "fire")),
    "paint": Coat("Paint system", "painted", "prime and paint {run}", None, ("indoors", "outdoors")),
    "lead_paint": Coat("Lead paint", "painted with lead", "prime and paint {run} with lead paint", None, ()),
    "zinc": Coat(
        "Zinc spray or galvanising", "zinced", "send {run} to be zinced", None, ("outdoors", "indoors")
    ),
    "zinc_paint": Coat(
        "Zinc, then paint",
        "zinced and painted",
        "have {run} zinced, and paint it",
        None,
        ("outdoors", "indoors"),
    ),
    "lacquer": Coat("Clear lacquer", "lacquered", "lacquer {run}", None, ("indoors",)),
    "tin": Coat("Tin", "tinned", "wipe {run} with pure tin", 260, ("food", "indoors")),
    "pitch": Coat("Pitch", "pitched", "brush {run} with pitch", 150, ("outdoors", "indoors")),
}
PLACES = {
    "indoors": "dry, indoors",
    "outdoors": "outdoors",
    "food": "with food",
    "fire": "at the fire",
}
BETTER = {
    "indoors": "wax",
    "outdoors": "zinc, then paint",
    "food": "food-safe oil, baked on",
    "fire": "a thin film of oil",
}


class Finish(Operation):
    """Brushes, degreases and coats a run; the colour and the coat are all that changes."""

    id = "finish"
    title = "Finish"
    family = "finish"
    help = (
        "Last of all: brush the scale off, degrease, and coat it for where it will be. Wax and oil go on at a"
        " black heat, 150 to 250 °C, where they flow and smoke a little; above 300 °C they burn off."
    )
    synonyms = ("wax", "oil", "blacken", "paint", "linseed", "seal", "black finish", "season")
    heat = (150, 250)
    usual_heats = (1, 1)
    tools = ("wire brush", "degreaser and rag", "wax, oil or brush")
    power_tools = ("rotary wire brush",)
    period = "wax, oil, pitch or tin"
    modern = "paint system, zinc spray, lacquer"
    safety = (
        "Oily rags heat up by themselves: into a lidded metal bin with water, every evening.",
        "Fume of wax, oil and paint: coat outside or under extraction.",
        "Linseed oil and wax burn: no open flame beside them.",
        "Black heat burns hands: feel for it with the back of the hand, a hand's breadth away.",
    )

    where: Place = declare.place("Where", "The run that is coated; it may be bent.")
    coat: str = declare.choice("Coat", {key: one.title for key, one in COATS.items()}, default="wax")
    place: str = declare.choice("Goes", PLACES, "Where the piece will be.", default="indoors")
    temperature: float | None = declare.number(
        "Warmed to", "Left out, what the coat wants.", required=False, least=20, most=800, unit="°C"
    )

    @property
    def _coat(self) -> Coat:
        return COATS[self.coat]

    @property
    def warmed_to(self) -> float | None:
        """The heat it goes on at [°C]; None where it goes on cold."""
        return self._coat.heat if self.temperature is None else self.temperature

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return self.spans(piece) if self.warmed_to is not None else ()

    def planned_heat(self, piece: Piece) -> tuple[float, float] | None:
        return None if self.warmed_to is None else (self.warmed_to, self.warmed_to)

    def scales_at(self, piece: Piece) -> float | None:
        return self.warmed_to or 0.0

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            yield from no_metal(piece.branch(span.branch), span)
        if self.warmed_to is not None and self.warmed_to >= GLOWS:
            yield stop(
                "finish.glowing",
                "At {given:temperature} iron glows: {coat} burns on it and does not stay.",
                hint="Let it cool to a black heat first.",
                given=self.warmed_to,
                coat=self._coat.title.lower(),
                field="temperature",
                source="common practice, no source",
            )

    def transform(self, piece: Piece) -> Piece:
        return treated(piece, self.spans(piece), lambda one: replace(one, coat=self._coat.said))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        if self.place not in self._coat.suits:
            poison = ": its lead poisons" if self.coat == "lead_paint" else ""
            yield caution(
                "finish.coat_unfit",
                "{coat} does not suit a piece that goes {place}{poison}.",
                hint="Better: {better}.",
                coat=self._coat.title,
                place=PLACES[self.place],
                poison=poison,
                better=BETTER[self.place],
                field="coat",
                source="common practice, no source",
            )
        if self.warmed_to is not None and COAT_BURNS < self.warmed_to < GLOWS:
            yield caution(
                "finish.burns_off",
                "At {given:temperature} {coat} burns off instead of drying; wax smokes long before.",
                hint="Let it cool below {most:temperature}.",
                given=self.warmed_to,
                coat=self._coat.title.lower(),
                most=COAT_BURNS,
                field="temperature",
                source="300 °C from memory",
            )
        coats = {one.treatment.coat for one in self._run(before)} - {"", self._coat.said}
        if coats:
            yield note(
                "finish.over_another",
                "It is {there} already: the new coat holds on clean metal only.",
                hint="Take the old one off first.",
                there=", ".join(sorted(coats)),
                field="where",
                source="common practice, no source",
            )

    def _run(self, piece: Piece) -> Iterator[Segment]:
        for span in self.spans(piece):
            yield from piece.branch(span.branch).segments_between(span.low, span.high)

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {} if self.warmed_to is None else {"temperature": self.warmed_to}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        warm = self.warmed_to
        return say(
            f"Brush off the scale, degrease, and {self._coat.verb}{{warm}}.",
            run=range_words(before, self.where),
            warm=say(" at {heat:temperature}", heat=warm) if warm is not None else "",
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say("No bare or wet place, and a clean rag stays clean")

    examples = (
        Example(
            "Waxed at a black heat",
            before=bar(Section.square(12), 300),
            params={"where": {"on": "bar", "datum": "whole"}},
            after=(Result(length=300, section=Section.square(12)),),
            heats=1,
            scale=0.05,
            lost=0,
            says=("all of the bar with wax at 180 °C",),
            source="at a black heat there is no scale; nothing changes in size",
        ),
        Example(
            "Oil baked on a pan's handle",
            before=bar(Section.flat(25, 6), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 120},
                "coat": "food_oil",
                "place": "food",
            },
            after=(Result(length=300, worked=120),),
            says=("230 °C",),
        ),
        Example(
            "Lead paint where there is food",
            before=bar(Section.square(12), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "coat": "lead_paint", "place": "food"},
            after=(Result(length=300),),
            cautions=("finish.coat_unfit",),
        ),
        Example(
            "Wax outdoors, put on too hot, over oil",
            before=bar(Section.square(12), 300),
            first=(("finish", {"where": {"on": "bar", "datum": "whole"}, "coat": "oil"}),),
            params={
                "where": {"on": "bar", "datum": "whole"},
                "place": "outdoors",
                "temperature": 350,
            },
            after=(Result(length=300),),
            cautions=("finish.coat_unfit", "finish.burns_off", "finish.over_another", "shape.treatment_lost"),
        ),
        Example(
            "It draws the temper of a hard edge",
            before=bar(Section.square(14), 180, material_id="high_carbon"),
            first=(("harden", {"where": {"on": "bar", "datum": "end", "length": 50}}),),
            params={"where": {"on": "bar", "datum": "whole"}, "coat": "blacken"},
            after=(Result(length=180),),
            cautions=("shape.treatment_lost",),
        ),
        Example(
            "Nothing stays on glowing iron",
            before=bar(Section.square(12), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "temperature": 600},
            refused=("finish.glowing",),
        ),
    )
