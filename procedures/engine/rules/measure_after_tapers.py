"""A gate after the tapers: measure before going on."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, family, moves_metal, run_after, run_before, turned, welds
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import InsertStep, Mend
from procedures.engine.pieces.metal import Run
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, end, square, step, trial, whole

_TURN = 1.0  # degrees that nobody measures
_LESS = 0.95  # of how even it was: more is the rounding of a size; our judgement


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
            elif last is not None and _goes_on(frame):
                yield self._flag(last, frame)
                return

    def _flag(self, frame: Frame, later: Frame) -> Flag:
        branch = frame.after.worked[0].branch
        params = {"where": {"on": branch, "datum": "whole"}, "look_for": "taper even, length right"}
        return self.flag(
            frame,
            "Nothing is measured between this taper and step {number:count}, {title}.",
            hint="Put a step in that inspects, while it can still be drawn or cut to length.",
            mend=Mend(
                say("Insert: inspect after this"), (InsertStep("inspect", "after", frame.key, params),)
            ),
            number=later.number,
            title=later.title,
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
        Case(
            "A taper with nothing after it that its length would matter to",
            trial(
                step("taper", where=end(60), end_section=square(4), heats=2),
                step("finish", where=whole()),
            ),
        ),
        Case(
            "Trued hot, and nothing bent",
            trial(
                step("taper", where=end(60), end_section=square(4), heats=2),
                step("straighten", where=end(100), takes_out="bow"),
                scale={"fire": "coke"},
            ),
        ),
        Case(
            "Flattening the end of a taper makes no other taper",
            trial(
                step("taper", where=end(60), end_section=square(6), heats=2),
                step("inspect", where=whole(), heats=0),
                step("flatten", where=end(14), thickness=4, bite=20),
                step("bend", where=at(60), angle=60, inside_radius=12),
            ),
        ),
        Case("Nothing tapered", trial(step("draw_out", where=end(60), target=square(10)))),
    )


def _tapers(frame: Frame) -> bool:
    """Whether it makes a run thinner toward one end than it was."""
    return moves_metal(frame) and _evenness(run_after(frame)) < _LESS * _evenness(run_before(frame))


def _evenness(run: Run) -> float:
    areas = [one.area for segment in run for one in (segment.start, segment.end)]
    return min(areas, default=0.0) / max(areas) if max(areas, default=0.0) > 0 else 1.0


def _goes_on(frame: Frame) -> bool:
    """Whether it bends or welds, after which the length can no longer be put right; truing does no harm."""
    if family(frame) == "bend":
        return abs(_turned(run_after(frame)) - _turned(run_before(frame))) > _TURN
    return welds(frame)


def _turned(run: Run) -> float:
    return sum(turned(one) + 360 * abs(one.twist) for one in run)
