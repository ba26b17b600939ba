"""One place in the fire again and again."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.finding import Level
from procedures.engine.frames import Flag, PartReplay
from procedures.engine.judging import hearth
from procedures.engine.judging.deeds import done, is_red
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import end, square, step, trial, whole

_MANY = 10  # heats on one place: from memory


class OftenHeated(PartRule):
    """Counts the heats that a step plans for each place the fire reaches."""

    code = "heat.often_heated"
    level = Level.NOTE
    title = "Not too many heats in one place"
    help = (
        "Every heat takes its scale and lets the grain grow. Metal that has been in the fire more than ten "
        "times in one step is thin, coarse and rough: strike while it is hot, and stop when it is done."
    )
    source = "10 heats from memory"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        reach = hearth.hot_length(scale)
        for frame in done(part):
            runs = max(hearth.heats_to_reach(frame.heated, reach), 1)
            if is_red(frame) and frame.step.heats > _MANY * runs:
                yield self.flag(
                    frame,
                    "{heats:count} heats are planned here: each takes scale and lets the grain grow.",
                    hint="Work it in fewer, or in steps that are measured between.",
                    field="heats",
                    heats=frame.step.heats,
                )

    examples = (
        Case(
            "Fifteen heats for one end",
            trial(step("draw_out", where=end(60), target=square(8), heats=15)),
            fires=("s1",),
        ),
        Case(
            "Fifteen heats for a long bar, run after run",
            trial(step("draw_out", where=end(400), target=square(8), heats=15)),
        ),
        Case("Four heats", trial(step("draw_out", where=end(60), target=square(8), heats=4))),
        Case("Waxed", trial(step("finish", where=whole(), heats=1))),
    )
