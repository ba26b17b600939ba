"""Temper next after hardening."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, family, is_hot
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import InsertStep, Mend, MoveStep
from procedures.engine.pieces.metal import Metal, same_metal
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, beginning, end, square, step, trial


class NotTempered(PartRule):
    """Looks at what comes next of steel that was hardened; a case has a soft core to hold it."""

    code = "order.not_tempered"
    title = "Temper next"
    help = (
        "Steel straight from the quench is as brittle as glass and may crack by itself. Temper it within the "
        "hour, before any other heat; brightening and measuring it come in between."
    )
    source = "common practice; an hour from memory"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        if not part.start.material.hardens:
            return
        frames = list(done(part))
        waiting = any(family(one) == "treat" for one in part.frames if one.status != "done")
        for index, frame in enumerate(frames):
            hard = [one for one in frame.left if _is_hard(one)] if family(frame) == "treat" else []
            if hard and not _comes_next(frame, hard, frames[index + 1 :]):
                later = _let_down(frame, hard, frames[index + 1 :])
                if later is not None or not waiting:
                    yield self._flag(frame, later)

    def _flag(self, frame: Frame, later: Frame | None) -> Flag:
        if later is not None:
            return self.flag(
                frame,
                "It is tempered in step {number:count} only, after other heats.",
                hint="Temper it right after the quench.",
                number=later.number,
                mend=Mend(
                    say(
                        "Move step {number:count}, {title}, after this",
                        number=later.number,
                        title=later.title,
                    ),
                    (MoveStep(later.key, "after", frame.key),),
                ),
            )
        where = frame.step.params.get("where")
        return self.flag(
            frame,
            "It is left glass hard: no later step tempers it.",
            hint="Temper it right after the quench.",
            mend=Mend(
                say("Insert a temper after this"),
                (InsertStep("temper", "after", frame.key, params={"where": where}, heats=1),),
            ),
        )

    examples = (
        Case(
            "A chisel that is hardened and left",
            trial(step("harden", where=end(60)), material="high_carbon"),
            fires=("s1",),
        ),
        Case(
            "The other end forged before the temper",
            trial(
                step("harden", where=end(60)),
                step("draw_out", where=beginning(40), target=square(10)),
                step("temper", where=end(60)),
                material="high_carbon",
            ),
            fires=("s1",),
        ),
        Case(
            "Tempered only at its tip",
            trial(
                step("harden", where=end(60)),
                step("temper", where=beginning(20)),
                material="high_carbon",
            ),
            fires=("s1",),
        ),
        Case(
            "Hardened, brightened and tempered",
            trial(
                step("harden", where=end(60)),
                step("file", where=end(30), depth=0.1, heats=0),
                step("temper", where=end(60)),
                material="high_carbon",
            ),
        ),
        Case(
            "Hardened again, then tempered",
            trial(
                step("harden", where=end(60)),
                step("harden", where=end(60)),
                step("temper", where=end(60)),
                material="high_carbon",
            ),
        ),
        Case(
            "Its temper is stopped: that is put right first",
            trial(
                step("harden", where=end(60)),
                step("temper", where=end(60), temperature=760),
                material="high_carbon",
            ),
            stops=True,
        ),
        Case(
            "A case on mild steel",
            trial(
                step("bend", where=at(60), angle=90, inside_radius=20),
                step("case_harden", where=end(40)),
            ),
        ),
    )


def _is_hard(metal: Metal) -> bool:
    return any(one.treatment.is_hard for one in metal.run)


def _comes_next(frame: Frame, hard: Sequence[Metal], later: Sequence[Frame]) -> bool:
    """Whether the hard metal is let down before any heat but those of other treatments."""
    for one in later:
        if family(one) == "treat":
            if _leaves_soft(frame, hard, one):
                return True
        elif is_hot(one):
            return False
    return False


def _let_down(frame: Frame, hard: Sequence[Metal], later: Sequence[Frame]) -> Frame | None:
    return next((one for one in later if family(one) == "treat" and _leaves_soft(frame, hard, one)), None)


def _leaves_soft(frame: Frame, hard: Sequence[Metal], later: Frame) -> bool:
    return any(
        not _is_hard(left) and same_metal(frame.after, metal, later.after, left)
        for left in later.left
        for metal in hard
    )
