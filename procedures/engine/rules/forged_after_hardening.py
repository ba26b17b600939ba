"""Harden after all forging."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.materials import CHANGE
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, done, family, is_hot, run_of
from procedures.engine.judging.rule import Case, PartRule, move_before
from procedures.engine.pieces.metal import Run
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, beginning, end, square, step, trial


class ForgedAfterHardening(PartRule):
    """Looks at every red heat for metal that an earlier step hardened."""

    code = "order.forged_after_hardening"
    title = "Harden after all forging"
    help = (
        "A red heat takes all hardness out again, and hammering hard steel cracks it. Hardening comes after"
        " the last of the forging, tempering next, and the finish last."
    )
    source = "common practice; the iron-carbon diagram, from memory"
    instead_of = ("shape.treatment_lost",)

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        for frame in done(part):
            maker = _hardener(past, frame) if _is_forged(frame) else None
            if maker is not None:
                yield self.flag(
                    frame,
                    "This heat takes the hardness out that step {number:count}, {title}, put in.",
                    hint="Do it before that step.",
                    mend=move_before(frame, maker),
                    number=maker.number,
                    title=maker.title,
                )

    examples = (
        Case(
            "A hardened end drawn out",
            trial(
                step("harden", where=end(60)),
                step("temper", where=end(60)),
                step("draw_out", where=end(40), target=square(9)),
                material="high_carbon",
            ),
            fires=("s3",),
        ),
        Case(
            "A bend close behind it in a red heat",
            trial(
                step("harden", where=end(60)),
                step("temper", where=end(60)),
                step("bend", where=at(50), angle=90, inside_radius=20),
                material="high_carbon",
            ),
            fires=("s3",),
        ),
        Case(
            "The other end forged",
            trial(
                step("harden", where=end(60)),
                step("temper", where=end(60)),
                step("draw_out", where=beginning(40), target=square(9)),
                material="high_carbon",
            ),
        ),
        Case(
            "Hardened a second time",
            trial(
                step("harden", where=end(60)),
                step("harden", where=end(60)),
                step("temper", where=end(60)),
                material="high_carbon",
            ),
        ),
        Case(
            "Filed after the temper",
            trial(
                step("harden", where=end(60)),
                step("temper", where=end(60)),
                step("file", where=end(20), depth=0.2, heats=0),
                material="high_carbon",
            ),
        ),
    )


def _is_forged(frame: Frame) -> bool:
    planned = frame.operation.planned_heat(frame.before) if frame.operation else None
    return planned is not None and planned[1] >= CHANGE and is_hot(frame) and family(frame) != "treat"


def _hardener(past: Past, frame: Frame) -> Frame | None:
    """Return the step that hardened metal which this one heats, or None."""
    for span in frame.heated:
        if _is_hardened(run_of(frame.before, span)):
            maker = past.made_so(frame, span, _is_hardened)
            if maker is not None:
                return maker
    return None


def _is_hardened(run: Run) -> bool:
    return any(one.treatment.is_hardened for one in run)
