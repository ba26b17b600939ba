"""Shoulder: set in a square step, the bar beyond it made thinner."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution
from procedures.engine.operation import Example, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.shaping.setting_down import SettingDown, size_through

SEAT = 1 / 8  # of the thickness, from memory

_HOW = {
    "one": "from {face}, {behind} flat on the anvil{pair}",
    "two": "from {face} and {behind} by turns",
    "all": "all round, turning all the time",
}


class Shoulder(SettingDown):
    """Sets in a shoulder at the end of a run, which is drawn to a section."""

    id = "shoulder"
    title = "Shoulder"
    family = "move"
    help = (
        "The run beyond the shoulder is drawn out: its length follows from its section. Worked from one side"
        " the other face stays flush, and the middle of the thin part goes over by half the ledge."
    )
    synonyms = ("set in", "square shoulder", "step", "cut-in", "form a shoulder")
    heat = (980, 1100)
    usual_heats = (2, 1)
    tools = ("set hammer", "anvil edge, slightly rounded", "hammer")
    power_tools = ("a step tool between the dies", "a guillotine")
    helper = "a striker for the set hammer"
    period = "set hammer over the anvil edge, or a swage all round"
    modern = "guillotine fuller, or milled and filed"
    safety = (
        "A hammer edge over a sharp anvil edge chips both: use a rounded anvil edge.",
        "The striker waits for the word: hands hold the set hammer.",
    )
    least_radius = 1.5
    radius_field = "fillet"

    fillet: float = declare.length(
        "Fillet", "Radius in the corner of the step; its metal is not reckoned.", default=2.0, least=0
    )

    @property
    def radius(self) -> float:
        return self.fillet

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        yield from super().cautions(before, after)
        present = self.present(before, self.spans(before)[0])
        ledge = self.ledge(present, self.section_after(after))
        through = size_through(present, self.face)
        if ledge < SEAT * through:
            yield caution(
                "shoulder.too_low",
                "A ledge of {ledge:size} on {through:size} is too low for anything to seat on.",
                hint="Make it {least:size} at least.",
                ledge=ledge,
                through=through,
                least=SEAT * through,
                field="target" if self.target is not None else "thickness",
                source="an eighth of the thickness from memory",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        run, made, ledge = self.facts(before, after)
        return say(
            "Set in a shoulder {how}, and draw {run} to {made:section}: it comes to {long:length},"
            " with a ledge of {ledge:size}.",
            how=_HOW[self.sides].format(**self.sides_words),
            run=run,
            made=made,
            long=worked_length(after),
            ledge=ledge,
        )

    examples = (
        Example(
            "□14, 30 of bar to ø9 behind a shoulder all round",
            before=bar(Section.square(14), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 30},
                "target": {"shape": "round", "diameter": 9},
            },
            after=(Result(length=362.4, worked=92.4, section=Section.round(9)),),
            says=("ledge of 2.5 mm",),
            source="volume: 30 × 14² × 4 / (π × 9²) = 92.4; ledge (14 - 9) / 2 = 2.5",
        ),
        Example(
            "From a mark, and the shoulder named",
            before=bar(Section.square(14), 300, marks={"A": 200, "B": 270}),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "A", "toward": "end"},
                "target": {"shape": "square", "side": 10},
                "mark": "shoulder",
            },
            after=(Result(length=396, worked=196, marks={"A": 200, "B": 337.2, "shoulder": 200}),),
            source="volume: 100 × 14² / 10² = 196; B: 200 + 70 × 1.96 = 337.2",
        ),
        Example(
            "From two sides the width stays",
            before=bar(Section.flat(30, 12), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "thickness": 6,
                "sides": "two",
            },
            after=(Result(length=240, worked=80, section=Section.flat(30, 6)),),
            says=("ledge of 3 mm",),
            source="volume: 40 × 12 / 6 = 80; ledge (12 - 6) / 2 = 3",
        ),
        Example(
            "From one side the underside stays flush",
            before=bar(Section.flat(30, 12), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "thickness": 5,
                "sides": "one",
            },
            after=(Result(worked=96, section=Section.flat(30, 5)),),
            cautions=("shoulder.shears_the_fibres", "shoulder.off_centre"),
            says=("ledge of 7 mm",),
            source="volume: 40 × 12 / 5 = 96; ledge 12 - 5 = 7",
        ),
        Example(
            "With scale on, the same section comes out shorter",
            before=bar(Section.square(14), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 30},
                "target": {"shape": "round", "diameter": 9},
            },
            heats=2,
            scale=0.05,
            after=(Result(worked=89.8, section=Section.round(9)),),
            source="recession of 2 × 0.05 mm a face first: 30 × 13.8² × 4 / (π × 9²) = 89.8",
        ),
        Example(
            "A low ledge in a sharp corner works, with warnings",
            before=bar(Section.square(20), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 60},
                "thickness": 16,
                "fillet": 1,
            },
            after=(Result(worked=93.75, section=Section.square(16)),),
            cautions=("shoulder.too_low", "shoulder.sharp_corner"),
            source="volume: 60 × 20² / 16² = 93.75; ledge 2 of 20, less than an eighth",
        ),
        Example(
            "A thicker run is refused",
            before=bar(Section.square(14), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 30},
                "target": {"shape": "square", "side": 16},
            },
            refused=("shoulder.not_smaller",),
        ),
        Example(
            "All of a bar has no shoulder",
            before=bar(Section.square(14), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "thickness": 10},
            refused=("shoulder.no_bar_left",),
        ),
        Example(
            "A section as deep through the face leaves no ledge",
            before=bar(Section.flat(30, 12), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "target": {"shape": "flat", "width": 20, "thickness": 12},
                "sides": "two",
            },
            refused=("shoulder.no_ledge",),
        ),
        Example(
            "A round has no faces to work from one side",
            before=bar(Section.round(14), 300),
            params={
                "where": {"on": "bar", "datum": "end", "length": 30},
                "thickness": 9,
                "sides": "one",
            },
            refused=("shoulder.no_faces",),
        ),
    )
