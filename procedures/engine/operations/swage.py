"""Swage: finish a run to the profile of a die."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, log

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place
from procedures.engine.pieces.segment import uniform
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import holes_worked, no_such_bar, plain_bar, thin_end

LEAST_FILL, MOST_FILL = 0.98, 1.08  # of the die's area: from memory
TURNED = ("round", "square", "hexagon", "octagon")


class Swage(Operation):
    """Brings a run to the section of a swage; what is more than the swage holds goes into length."""

    id = "swage"
    title = "Swage"
    family = "move"
    help = (
        "The bar must fill the swage: it needs as much area as the finished section, best up to a twentieth"
        " more. With much more, fins are squeezed out at the parting; work it near the size first."
    )
    synonyms = (
        "swage to shape",
        "swage to size",
        "top and bottom swage",
        "swage block",
        "V-block",
        "spring swage",
    )
    heat = (1000, 1200)
    usual_heats = (2, 1)
    tools = ("top and bottom swage, spring swage or swage block", "hammer")
    power_tools = ("swages held between the dies", "a spring swage")
    helper = "a striker with handled swages"
    period = "handled top and bottom swages, and a striker; a swage block"
    modern = "press dies, or bar bought to the profile"
    safety = (
        "Never strike two hardened swage faces together with nothing between them.",
        "A fin is as sharp as a knife: knock or file it off before it is handled.",
    )

    where: Place = declare.place("Where", "The run to finish in the swage.")
    die: Section = declare.section("Section of the swage", "What the run measures when done.")
    passes: int = declare.number(
        "Passes",
        "Swages it goes through, each a little smaller, down to this one.",
        default=1,
        least=1,
        most=20,
        whole=True,
    )

    def fills(self, piece: Piece) -> tuple[float, float]:
        """Return the least and the most fill along the runs: the area that is there over that of the die."""
        areas = [
            section.area
            for span in self.spans(piece)
            for section in piece.branch(span.branch).sections_along(span.low, span.high)
        ]
        return min(areas) / self.die.area, max(areas) / self.die.area

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            yield from plain_bar(branch, span)
            found = list(no_such_bar(branch, span, self.die, "die"))
            yield from found
            if found:
                return
            thinnest = min(branch.sections_along(span.low, span.high), key=lambda one: one.area)
            if thinnest.area < LEAST_FILL * self.die.area:
                yield stop(
                    "swage.not_filled",
                    "{present:section} fills only {fill:percent} of the swage, {die:section}.",
                    hint="Take a smaller swage, or upset the bar first.",
                    present=thinnest,
                    fill=thinnest.area / self.die.area,
                    die=self.die,
                    field="die",
                    source="geometry; 2 % from memory",
                )

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            volume = piece.branch(span.branch).volume_between(span.low, span.high)
            piece = piece.reshaped(span, uniform(self.die, volume / self.die.area))
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        least, most = self.fills(before)
        if most ** (1 / self.passes) > MOST_FILL:
            needed = ceil(log(most) / log(MOST_FILL))
            yield caution(
                "swage.fins",
                "The bar holds {more:percent} more than the swage: a fin is squeezed out, and laps if it is"
                " hammered back in.",
                hint="Work it near the size first, or go down in {needed:count} passes.",
                more=most - 1,
                needed=needed,
                field="passes",
                mend={"passes": needed} if needed <= 20 else {},
                source="8 % from memory",
            )
        if least < 1:
            yield note(
                "swage.just_filled",
                "It only just fills the swage: its corners come a little soft.",
                source="from memory",
            )
        yield from thin_end(self.die, "die")
        yield from holes_worked(before, self.spans(before))

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        how = "" if self.passes == 1 else f" in {self.passes} passes"
        how += ", a quarter turn after each blow" if self.die.shape in TURNED else ""
        return say(
            f"Swage {{run}} to {{die:section}}{how}: it comes to {{long:length}}.",
            run=range_words(before, self.where),
            die=self.die,
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{die:section} along {long:length}, without a fin", die=self.die, long=worked_length(after)
        )

    examples = (
        Example(
            "□12 swaged to ø12 gets longer by a quarter",
            before=bar(Section.square(12), 300, marks={"M": 250}),
            params={
                "where": {"on": "bar", "datum": "end", "length": 100},
                "die": {"shape": "round", "diameter": 12},
                "passes": 4,
            },
            after=(Result(length=327.3, worked=127.3, section=Section.round(12), marks={"M": 263.7}),),
            source="area: 100 × 4 / π = 127.3; M: 200 + 50 × 4 / π = 263.7",
        ),
        Example(
            "□12 just fills a ø13.5 swage",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 100},
                "die": {"shape": "round", "diameter": 13.5},
            },
            after=(Result(worked=100.6, section=Section.round(13.5)),),
            source="fill: 144 / (π/4 × 13.5²) = 1.006",
        ),
        Example(
            "All at once a fin comes out",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 100},
                "die": {"shape": "round", "diameter": 12},
            },
            after=(Result(worked=127.3),),
            cautions=("swage.fins",),
            source="fill 4 / π = 1.27, above 1.08",
        ),
        Example(
            "Half-round from flat bar",
            before=bar(Section.flat(20, 8.2), 200),
            params={"where": {"on": "bar", "datum": "whole"}, "die": {"shape": "half_round", "width": 20}},
            after=(Result(length=208.8, section=Section.half_round(20)),),
            source="area: 200 × 164 / (π/8 × 20²) = 208.8",
        ),
        Example(
            "With scale on",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 100},
                "die": {"shape": "hexagon", "across_flats": 12},
                "passes": 2,
            },
            heats=1,
            scale=0.05,
            after=(Result(worked=113.6, section=Section.hexagon(12)),),
            source="recession first: 100 × 11.9² / (0.866 × 12²) = 113.6",
        ),
        Example(
            "A swage that the bar does not fill is refused",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 100},
                "die": {"shape": "round", "diameter": 14},
            },
            refused=("swage.not_filled",),
        ),
        Example(
            "A taper that is too thin at its end is refused",
            before=bar(Section.square(12), 300),
            first=(
                (
                    "taper",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 60},
                        "end_section": {"shape": "square", "side": 6},
                    },
                ),
            ),
            params={
                "where": {"on": "bar", "datum": "end", "length": 60},
                "die": {"shape": "round", "diameter": 8},
            },
            refused=("swage.not_filled",),
        ),
    )
