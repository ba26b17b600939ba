"""Holes before twisting, unless in the plain part."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.frames import Flag, PartReplay
from procedures.engine.judging.deeds import done, holes_made, run_before
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, end, step, trial


class HoleAfterTwist(PartRule):
    """Looks whether a hole is made in metal that is twisted already."""

    code = "order.hole_after_twist"
    title = "Holes before twisting"
    help = (
        "A punch finds no flat face on a twist, and the hole comes out askew. Leave the bar plain where it "
        "gets a hole; a hole made before the twist and inside it is pulled out of shape."
    )
    source = "common practice, no source"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        for frame in done(part):
            if holes_made(frame) and any(one.twist for one in run_before(frame)):
                yield self.flag(
                    frame,
                    "This hole is made in a twist, where the bar has no flat face.",
                    hint="Let the twist end before the hole, or move the hole to a plain part.",
                    field="where",
                )

    examples = (
        Case(
            "A hole in the middle of a twist",
            trial(
                step("twist", where=end(120), turns=1),
                step("punch", where=[at(60)], size=5, heats=2),
            ),
            fires=("s2",),
        ),
        Case(
            "A hole in the plain part beside it",
            trial(
                step("twist", where=end(120, offset=80), turns=1),
                step("punch", where=[at(30)], size=5, heats=2),
            ),
        ),
    )
