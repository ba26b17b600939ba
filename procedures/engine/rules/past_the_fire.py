"""A heat that covers more than the fire can."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging import hearth
from procedures.engine.judging.deeds import done, is_hot, run_of, turned, twists, upsets, welds
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.pieces.place import Span
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import end, square, step, trial

_ABOUT = 1.1  # of the hot length, which nobody knows to the millimetre; our judgement
_FOLDED = 150.0  # degrees of turn, from which the two legs of a run lie side by side; our judgement


class PastTheFire(PartRule):
    """Looks at work that needs its whole range hot at once: twists, upsets, welds, and stated hot ranges."""

    code = "heat.past_the_fire"
    title = "Hot all at once"
    help = (
        "A twist, an upset and a weld need all of their metal at one even heat; where it is colder, the bar "
        "does not move or does not join. A fire heats only so much bar at once."
    )
    source = hearth.SOURCE
    instead_of = ("twist.long_heat",)

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        reach = hearth.hot_length(scale)
        for frame in done(part):
            if is_hot(frame) and at_once(frame):
                yield from self._long(frame, reach)

    def _long(self, frame: Frame, reach: float) -> Iterator[Flag]:
        longest = max(_extent(frame, one) for one in frame.heated)
        if longest > _ABOUT * reach:
            yield self.flag(
                frame,
                "{long:length} must be hot at once; this fire heats about {reach:length}.",
                hint="Do it in runs of that length, or in a longer fire.",
                long=longest,
                reach=reach,
            )

    examples = (
        Case(
            "A long twist in a coke fire",
            trial(step("twist", where=end(300), turns=3), scale={"fire": "coke"}),
            fires=("s1",),
        ),
        Case(
            "A twist that the fire reaches",
            trial(step("twist", where=end(140), turns=2), scale={"fire": "coke"}),
        ),
        Case(
            "200 mm in a gas forge",
            trial(step("twist", where=end(200), turns=2), scale={"fire": "gas"}),
        ),
        Case(
            "A smith whose fire is longer",
            trial(step("twist", where=end(300), turns=3), scale={"fire": "coke", "hot_length": 320}),
        ),
        Case(
            "A long taper is drawn heat by heat",
            trial(step("taper", where=end(300), end_section=square(4), heats=4), scale={"fire": "coke"}),
        ),
    )


def at_once(frame: Frame) -> bool:
    """Whether a step needs all its hot metal hot at the same time."""
    stated = frame.step.heated is not None and frame.step.heats == 1
    return stated or twists(frame) or upsets(frame) or welds(frame)


def _extent(frame: Frame, span: Span) -> float:
    """Return how much fire a range takes [mm]: half its length where it is folded on itself."""
    folded = any(turned(one) >= _FOLDED for one in run_of(frame.before, span))
    return span.length / 2 if folded else span.length
