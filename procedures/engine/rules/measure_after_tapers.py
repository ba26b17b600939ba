"""A gate after the tapers: measure before going on."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, family, moves_metal, run_after
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import InsertStep, Mend
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import end, square, step, trial, whole


class MeasureAfterTapers(PartRule):
    """Looks whether anything is measured after the last taper of a part."""

    code = "gate.measure_after_tapers"
    level = Level.NOTE
    title = "Measure after the tapers"
    help = (
        "How long a taper came out decides all that is measured from it. Measure it before the bends and "
        "scrolls, while it can still be drawn or cut to length."
    )
    source = "common practice, no source"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        last = None
        for frame in done(part):
            if _tapers(frame):
                last = frame
            elif family(frame) == "check":
                last = None
        if last is not None and part.is_complete:
            yield self._flag(last)

    def _flag(self, frame: Frame) -> Flag:
        branch = frame.after.worked[0].branch
        params = {"where": {"on": branch, "datum": "whole"}, "look_for": "taper even, length right"}
        return self.flag(
            frame,
            "Nothing is measured after this taper.",
            hint="Put a step in that inspects, before anything is bent.",
            mend=Mend(
                say("Insert: inspect after this"), (InsertStep("inspect", "after", frame.key, params),)
            ),
        )

    examples = (
        Case(
            "A taper and no measuring",
            trial(
                step("taper", where=end(60), end_section=square(4), heats=2),
                step("scroll", on="bar", inner=8, outer=20, turns=0.75),
            ),
            fires=("s1",),
        ),
        Case(
            "A taper that is inspected",
            trial(
                step("taper", where=end(60), end_section=square(4), heats=2),
                step("inspect", where=whole(), heats=0),
                step("scroll", on="bar", inner=8, outer=20, turns=0.75),
            ),
        ),
        Case("Nothing tapered", trial(step("draw_out", where=end(60), target=square(10)))),
    )


def _tapers(frame: Frame) -> bool:
    return moves_metal(frame) and any(not one.is_even for one in run_after(frame))
