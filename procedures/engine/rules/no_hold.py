"""Nothing left to hold in the tongs."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, is_red
from procedures.engine.judging.holding import left_to_hold, tongs_for
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import Mend, SetStep
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.checks import BY_HAND, HELD, LEAST_SAID
from procedures.engine.trial import end, square, step, trial, whole


class NoHold(PartRule):
    """Looks at every hot step for what stays out of the heat, and for the tongs named."""

    code = "holding.no_hold"
    title = "Something to hold it by"
    help = (
        "At least 60 mm stays outside the heat for the tongs, or tongs are named that hold the piece as it "
        "is. A bar longer than 400 mm is its own handle."
    )
    source = "60 mm from memory; 400 mm is common practice, no source"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        for frame in done(part):
            if is_red(frame) and not frame.step.tongs:
                yield from self._held(frame)

    def _held(self, frame: Frame) -> Iterator[Flag]:
        if frame.total_length > BY_HAND:
            return
        left = left_to_hold(frame)
        if left < HELD:
            tongs = tongs_for(frame.before, frame.heated)
            yield self.flag(
                frame,
                ("Only {left:length} stays" if left > LEAST_SAID else "Nothing stays")
                + " out of the heat to hold it by, and no tongs are named.",
                hint="Name the tongs that fit, or do this while the bar is longer.",
                mend=Mend(
                    say("Name tongs: {tongs}", tongs=tongs), (SetStep(frame.key, fields={"tongs": tongs}),)
                ),
                left=left,
            )

    examples = (
        Case(
            "A short bar drawn almost to its end",
            trial(step("draw_out", where=end(60), target=square(10)), length=100),
            fires=("s1",),
        ),
        Case(
            "The same with its tongs named",
            trial(step("draw_out", where=end(60), target=square(10), tongs="V-bit tongs, 12 mm"), length=100),
        ),
        Case(
            "Waxed as a whole at a black heat",
            trial(step("finish", where=whole()), length=100),
        ),
        Case(
            "A long bar is its own handle",
            trial(step("change_section", where=whole(), shape="octagon", heats=4), length=500),
        ),
    )
