"""Split before the arms are tapered."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, done, family, run_of
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.pieces.metal import Run
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, end, flat, step, trial, whole

_UNEVEN = 0.9  # of the larger area: less is a taper and not the rounding of a size; our judgement


class SplitAfterTaper(PartRule):
    """Looks whether what is split was tapered by an earlier step."""

    code = "order.split_after_taper"
    title = "Split before the arms are tapered"
    help = (
        "A chisel wanders on a taper and the arms come out unlike. Split the bar while it is even, open it "
        "wide, dress the cut, then taper each arm and close them again."
    )
    source = "common practice, no source"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        for frame in done(part):
            if _splits(frame):
                yield from self._tapered(past, frame)

    def _tapered(self, past: Past, frame: Frame) -> Iterator[Flag]:
        for span in frame.worked:
            if not _is_tapered(run_of(frame.before, span)):
                continue
            maker = past.made_so(frame, span, _is_tapered)
            if maker is not None:
                yield self.flag(
                    frame,
                    "What is split here was tapered in step {number:count}, {title}.",
                    hint="Split it first, then taper the arms as a group.",
                    number=maker.number,
                    title=maker.title,
                )
                return

    examples = (
        Case(
            "The end tapered as one, then split",
            trial(
                step("taper", where=end(120), end_section=flat(16, 5), heats=3),
                step("split", where=at(100), children=["left", "right"], heats=2),
                section=flat(30, 8),
            ),
            fires=("s2",),
        ),
        Case(
            "Split, opened, and both arms tapered",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("open_split", on="arms", angle=120),
                step("taper", where=whole("arms"), end_section=flat(8, 4), heats=2),
                section=flat(30, 8),
            ),
        ),
    )


def _splits(frame: Frame) -> bool:
    return family(frame) == "cut" and len(frame.after.branches) > len(frame.before.branches)


def _is_tapered(run: Run) -> bool:
    areas = [one.area for segment in run for one in (segment.start, segment.end)]
    return min(areas, default=0.0) < _UNEVEN * max(areas, default=0.0)
