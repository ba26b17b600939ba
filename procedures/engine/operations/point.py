"""Point: a short taper to nothing or nearly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution
from procedures.engine.operation import Example, Result, declare, worked_length
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.shaping.checks import holes_worked
from procedures.engine.shaping.tapering import ENDS, Tapering, TaperingOperation

NEEDLE = 1.5  # mm: a finer tip burns and hurts people; from memory


class MakePoint(TaperingOperation):
    """Draws an end to a point."""

    id = "point"
    title = "Point"
    family = "move"
    help = "A true point is three times as long as the bar that goes into it, a chisel point twice."
    synonyms = ("nail point", "spike", "dress a point")
    heat = (980, 1200)
    usual_heats = (2, 1)
    tools = ("hammer", "anvil, far edge")
    power_tools = ("flat dies",)
    period = "hammer and anvil; the same today"
    modern = "ground to a point"
    safety = (
        "Lay points away from the aisle.",
        "Put a cork or a block on a finished point.",
    )

    tip: float = declare.length("Tip", "Size of the very tip; 0 is a true point.", default=2.0, least=0)
    form: str = declare.choice(
        "Form",
        {"square": "square", "round": "round", "chisel": "chisel: the width stays"},
        default="square",
    )
    point_length: float | None = declare.length(
        "Wanted length", "From this the bar to use follows, measured from the tip.", required=False
    )
    thin_end: str = declare.choice("Tip at", ENDS, default="free")

    def plan(self) -> Tapering:
        """Return the taper to be made."""
        return Tapering(
            thin=self.thin_end,
            thick_from=lambda present: present,
            thin_from=self._tip,
            length=self.point_length,
            length_field="point_length",
            field="tip",
        )

    def _tip(self, present: Section) -> Section:
        if self.form == "chisel":
            return Section.flat(present.width, self.tip) if self.tip else Section.edge(present.width)
        if not self.tip:
            return Section.point()
        return Section.round(self.tip) if self.form == "round" else Section.square(self.tip)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        if self.tip < NEEDLE:
            yield caution(
                "point.needle",
                "A tip finer than {least:size} burns in the fire and runs into people.",
                hint="Leave {least:size}, or round the finished tip.",
                least=NEEDLE,
                field="tip",
                source="1.5 mm from memory",
                mend={"tip": NEEDLE},
            )
        yield from holes_worked(before, self.spans(before))

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {"point_length": worked_length(after)}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        _, thin = self.ends(after)
        form = {"square": "square", "round": "round", "chisel": "chisel"}[self.form]
        return say(
            "Draw {run} to a {form} point{tip}: it comes to {long:length}.",
            run=self.run_words(before, after),
            form=form,
            tip=say(", {thin:section} at the tip", thin=thin) if self.tip else "",
            long=worked_length(after),
        )

    examples = (
        Example(
            "A true square point is three times its bar",
            before=bar(Section.square(10), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 18}, "tip": 0},
            after=(Result(length=236, worked=54, end=Section.point()),),
            cautions=("point.needle",),
            source="volume of a pyramid: 3 × 18 = 54",
        ),
        Example(
            "ø10 to a round point of ø2",
            before=bar(Section.round(10), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 18}, "form": "round"},
            after=(Result(worked=43.5, end=Section.round(2)),),
            source="volume: 3 × 18 × 100 / (100 + 20 + 4) = 43.5",
        ),
        Example(
            "A chisel point keeps the width: twice its bar",
            before=bar(Section.square(10), 200),
            params={"where": {"on": "bar", "datum": "start", "length": 18}, "form": "chisel", "tip": 0},
            after=(Result(worked=36, start=Section.edge(10)),),
            cautions=("point.needle",),
            source="volume of a wedge: 2 × 18 = 36",
        ),
        Example(
            "60 of true point is wanted: 20 of bar",
            before=bar(Section.square(10), 200),
            params={"where": {"on": "bar", "datum": "end"}, "tip": 0, "point_length": 60},
            after=(Result(length=240, worked=60),),
            cautions=("point.needle",),
            source="volume of a pyramid: 60 / 3 = 20",
        ),
        Example(
            "With scale on, two heats",
            before=bar(Section.square(12), 560),
            params={"where": {"on": "bar", "datum": "end", "length": 25}, "tip": 3},
            heats=2,
            scale=0.03,
            after=(Result(worked=57.0),),
            source="recession first: 3 × 25 × 11.88² / (11.88² + 11.88 × 3 + 9) = 57.0",
        ),
        Example(
            "A tip as thick as the bar is refused",
            before=bar(Section.square(10), 200),
            params={"where": {"on": "bar", "datum": "end", "length": 18}, "tip": 10},
            refused=("taper.end_not_thinner",),
        ),
    )
