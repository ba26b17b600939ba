"""A weld needs a welding heat."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.wording import say
from procedures.engine.frames import Flag, PartReplay
from procedures.engine.judging.deeds import done, welds
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import Mend, SetStep
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import flat, step, trial

_FOLD: dict[str, Any] = {"on": "bar", "end": "start"}
_DRESSED = flat(30, 8)


class NoWeldingHeat(PartRule):
    """Looks for welds that plan no welding heat."""

    code = "heat.no_welding_heat"
    title = "Welds have welding heats"
    help = (
        "A forge weld is made at a heat of its own, well above a forging heat, and costs far more scale. "
        "Without one the reckoning comes out too long."
    )
    source = "common practice, no source"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        for frame in done(part):
            kind = frame.step.kind
            if welds(frame) and not frame.step.welding_heats and kind:
                usual = kind.usual_welding_heats
                yield self.flag(
                    frame,
                    "No welding heat is planned for this weld.",
                    hint="{usual:count} are usual.",
                    field="welding_heats",
                    mend=Mend(
                        say("Plan {usual:count} welding heats", usual=usual),
                        (SetStep(frame.key, fields={"welding_heats": usual}),),
                    ),
                    usual=usual,
                )

    examples = (
        Case(
            "A fold welded without a welding heat",
            trial(
                step("fold_back", **_FOLD, flap=45, gap=13),
                step("weld_fold", **_FOLD, dressed=_DRESSED, eye=13, heats=1),
                section=flat(30, 6),
            ),
            fires=("s2",),
        ),
        Case(
            "With two",
            trial(
                step("fold_back", **_FOLD, flap=45, gap=13),
                step("weld_fold", **_FOLD, dressed=_DRESSED, eye=13, heats=0, welding_heats=2),
                section=flat(30, 6),
            ),
        ),
    )
