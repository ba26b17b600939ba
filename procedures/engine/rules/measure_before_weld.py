"""A gate before every weld: measure before going on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.wording import say
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, family, welds
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import InsertStep, Mend
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import flat, step, trial, whole

_FOLD: dict[str, Any] = {"on": "bar", "end": "start"}
_WELD = step("weld_fold", **_FOLD, dressed=flat(30, 8), eye=13, heats=0, welding_heats=2)


class MeasureBeforeWeld(PartRule):
    """Looks whether anything is measured between the work before a weld and the weld, once for each part."""

    code = "gate.measure_before_weld"
    level = Level.NOTE
    title = "Measure before welding"
    help = (
        "A weld cannot be taken back. Before it the lengths are measured, the faces looked at, and whoever "
        "teaches signs. One step that inspects is such a gate."
    )
    source = "common practice, no source"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        yield from self._gates(part)

    def _gates(self, part: PartReplay) -> Iterator[Flag]:
        unmeasured = False
        for frame in done(part):
            if family(frame) == "check":
                unmeasured = False
            elif welds(frame) and unmeasured:
                yield self._flag(frame)
                return
            elif family(frame) != "prepare":
                unmeasured = True

    def _flag(self, frame: Frame) -> Flag:
        branch = frame.worked[0].branch if frame.worked else frame.before.root.name
        params = {
            "where": {"on": branch, "datum": "whole"},
            "look_for": "lengths right, faces clean, all that the weld needs at hand",
        }
        return self.flag(
            frame,
            "Nothing is measured between the work before it and this weld.",
            hint="Put a step in that inspects: a weld cannot be taken back.",
            mend=Mend(
                say("Insert: inspect before this"), (InsertStep("inspect", "before", frame.key, params),)
            ),
        )

    examples = (
        Case(
            "Folded and welded at once",
            trial(step("fold_back", **_FOLD, flap=45, gap=13), _WELD, section=flat(30, 6)),
            fires=("s2",),
        ),
        Case(
            "Inspected between",
            trial(
                step("fold_back", **_FOLD, flap=45, gap=13),
                step("inspect", where=whole(), look_for="throat open", heats=0),
                _WELD,
                section=flat(30, 6),
            ),
        ),
    )
