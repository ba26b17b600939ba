"""Set down: make a run thinner with half-on blows, leaving a soft ledge."""

from __future__ import annotations

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.operation import Example, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.shaping.setting_down import SIDES, SettingDown, Sides

_HOW = {
    "one": "with half-on blows on {face}, {behind} flat on the anvil{pair},",
    "two": "with half-on blows on {face} and {behind} by turns",
    "all": "with half-on blows all round, a quarter turn after each,",
}


class SetDown(SettingDown):
    """Sets a run down behind a rounded ledge: a tang, the root of a blade, the neck behind a leaf."""

    id = "set_down"
    title = "Set down"
    family = "move"
    help = (
        "Half-on blows over a rounded anvil edge leave a soft ledge. From one side the far face stays flush,"
        " and the middle of the thin part goes over by half of what was taken."
    )
    synonyms = ("half-on blows", "half-face blows", "half-hammer blows", "cheek down", "offset over the edge")
    heat = (980, 1100)
    usual_heats = (2, 1)
    tools = ("hammer", "near or far edge of the anvil")
    power_tools = ("a step die",)
    period = "hammer and anvil edge; the same today"
    modern = "milled"
    safety = ("Half-on blows jar the bar: hold it firmly; chips fly off a sharp anvil edge.",)
    least_radius = 3.0
    radius_field = "edge_radius"

    sides: Sides = declare.choice("Worked from", SIDES, default="one")
    edge_radius: float = declare.length(
        "Edge radius", "Of the anvil edge that makes the ledge; 3 to 5 mm.", default=4.0, least=0
    )

    @property
    def radius(self) -> float:
        return self.edge_radius

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        run, made, ledge = self.facts(before, after)
        return say(
            "Set down {run} {how} to {made:section}: it comes to {long:length},"
            " with a ledge of {ledge:size}.",
            run=run,
            how=_HOW[self.sides].format(**self.sides_words),
            made=made,
            long=worked_length(after),
            ledge=ledge,
        )

    examples = (
        Example(
            "25 × 12, the last 40 set down to 7 from one face",
            before=bar(Section.flat(25, 12), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 40}, "thickness": 7},
            after=(Result(length=228.6, worked=68.6, section=Section.flat(25, 7)),),
            cautions=("set_down.off_centre",),
            says=("ledge of 5 mm",),
            source="volume: 40 × 12 / 7 = 68.6; the middle goes over by (12 - 7) / 2 = 2.5",
        ),
        Example(
            "The neck behind a leaf, all round, with its far end marked",
            before=bar(Section.square(10), 400, marks={"N": 378}),
            params={
                "where": {"on": "bar", "datum": "mark", "mark": "N", "toward": "start", "length": 8},
                "target": {"shape": "square", "side": 6},
                "sides": "all",
                "mark": "K",
            },
            after=(Result(length=414.2, worked=22.2, marks={"K": 370, "N": 392.2}),),
            source="volume: 8 × 10² / 6² = 22.2",
        ),
        Example(
            "A tang cheeked down from one edge",
            before=bar(Section.flat(30, 6), 150),
            params={
                "where": {"on": "bar", "datum": "start", "length": 30},
                "thickness": 15,
                "face": "left",
            },
            after=(Result(length=180, worked=60, start=Section.flat(15, 6)),),
            source="volume: 30 × 30 / 15 = 60",
        ),
        Example(
            "Both arms alike",
            before=bar(Section.flat(30, 12), 300),
            first=(("split", {"where": {"on": "bar", "offset": 100}, "children": ["left", "right"]}),),
            params={
                "where": {"on": "arms", "datum": "end", "length": 40},
                "thickness": 8,
                "sides": "two",
            },
            after=(
                Result("left", length=120, worked=60, end=Section.flat(15, 8)),
                Result("right", length=120, worked=60, end=Section.flat(15, 8)),
            ),
            source="volume: 40 × 12 / 8 = 60",
        ),
        Example(
            "A pair of arms cheeked down on opposite edges",
            before=bar(Section.flat(40, 8), 300),
            first=(("split", {"where": {"on": "bar", "offset": 100}, "children": ["left", "right"]}),),
            params={
                "where": {"on": "arms", "datum": "end", "length": 30},
                "thickness": 12,
                "face": "left",
                "mirrored": True,
            },
            after=(
                Result("left", worked=50, end=Section.flat(12, 8)),
                Result("right", worked=50, end=Section.flat(12, 8)),
            ),
            says=("every second one from the opposite face",),
            source="volume: 30 × 20 / 12 = 50",
        ),
        Example(
            "With scale on",
            before=bar(Section.flat(25, 12), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 40}, "thickness": 7},
            heats=1,
            scale=0.05,
            after=(Result(worked=68.0, section=Section.flat(24.9, 7)),),
            source="recession first, 24.9 × 11.9; the width stays: 40 × 11.9 / 7 = 68.0",
        ),
        Example(
            "A sharp edge works, with a warning",
            before=bar(Section.flat(25, 12), 200),
            params={
                "where": {"on": "bar", "datum": "end", "length": 40},
                "thickness": 5,
                "edge_radius": 1,
            },
            after=(Result(worked=96),),
            cautions=("set_down.sharp_corner", "set_down.shears_the_fibres"),
            source="volume: 40 × 12 / 5 = 96",
        ),
        Example(
            "No thinner is refused",
            before=bar(Section.flat(25, 12), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 40}, "thickness": 14},
            refused=("set_down.not_smaller",),
        ),
        Example(
            "Bent metal is refused",
            before=bar(Section.flat(25, 12), 200),
            first=(
                (
                    "bend",
                    {"where": {"on": "bar", "datum": "end", "offset": 30}, "angle": 90, "inside_radius": 12},
                ),
            ),
            params={"where": {"on": "bar", "datum": "end", "length": 40}, "thickness": 7},
            refused=("shape.curved_metal",),
        ),
    )
