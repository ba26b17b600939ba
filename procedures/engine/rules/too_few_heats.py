"""Planned heats against what the reach of the fire needs."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging import hearth
from procedures.engine.judging.deeds import done, family, is_red, twists, upsets, welds
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import Mend, SetStep
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, end, square, step, trial, whole


class TooFewHeats(PartRule):
    """Reckons how many heats it takes to have every part of the worked metal hot once."""

    code = "heat.too_few_heats"
    title = "Enough heats to reach it all"
    help = (
        "Work longer than the fire's hot length is done heat by heat, one run after the other. Fewer heats "
        "than runs leave metal that was never hot. How many blows a heat allows is another matter."
    )
    source = hearth.SOURCE

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        reach = hearth.hot_length(scale)
        for frame in done(part):
            if _is_forged(frame) and frame.step.heats and not _at_once(frame):
                yield from self._reached(frame, reach)

    def _reached(self, frame: Frame, reach: float) -> Iterator[Flag]:
        needed = hearth.heats_to_reach(frame.heated, reach)
        if frame.step.heats < needed:
            yield self.flag(
                frame,
                f"{'One heat is' if frame.step.heats == 1 else '{planned:count} heats are'} planned; with "
                "{reach:length} hot at once it takes {needed:count} to reach all of it.",
                hint="Plan {needed:count} heats.",
                field="heats",
                mend=Mend(
                    say("Plan {needed:count} heats", needed=needed),
                    (SetStep(frame.key, fields={"heats": needed}),),
                ),
                planned=frame.step.heats,
                reach=reach,
                needed=needed,
            )

    examples = (
        Case(
            "400 mm drawn in two heats of a coke fire",
            trial(step("draw_out", where=end(400), target=square(10), heats=2), scale={"fire": "coke"}),
            fires=("s1",),
        ),
        Case(
            "400 mm drawn in three",
            trial(step("draw_out", where=end(400), target=square(10), heats=3), scale={"fire": "coke"}),
        ),
        Case(
            "Two holes far apart in one heat",
            trial(step("punch", where=[at(30), at(400)], size=5, heats=1)),
            fires=("s1",),
        ),
        Case(
            "A bar normalised as a whole is drawn through the fire",
            trial(step("normalise", where=whole()), scale={"fire": "coke"}),
        ),
        Case(
            "Two holes close together in one heat",
            trial(step("punch", where=[at(30), at(100)], size=5, heats=1)),
        ),
    )


def _is_forged(frame: Frame) -> bool:
    """Whether it needs a forging heat. A piece is drawn through the fire to be treated, or warmed for wax."""
    return is_red(frame) and family(frame) != "treat"


def _at_once(frame: Frame) -> bool:
    """Whether it needs all of it hot at once: more heats are no way out, and another rule sees to it."""
    return twists(frame) or upsets(frame) or welds(frame)
