"""Finish last."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, done, family, run_of
from procedures.engine.judging.rule import Case, PartRule, move_after, move_before
from procedures.engine.pieces.metal import Run
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, beginning, end, square, step, trial


class FinishLast(PartRule):
    """Looks at every step for metal that an earlier one coated; measuring and marking do not harm a coat."""

    code = "order.finish_last"
    title = "The finish comes last"
    help = (
        "Heat burns wax, oil and paint off, and their fume is bad to breathe; a file and a hammer break them."
        " So the coat comes after everything else."
    )
    source = "common practice, no source"
    instead_of = ("shape.treatment_lost",)

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        spoilt: dict[str, list[Frame]] = {}
        coaters: dict[str, Frame] = {}
        for frame in done(part):
            if family(frame) == "check" or not _works(frame):
                continue
            maker = _coater(past, frame)
            if maker is not None and maker.step.kind is not frame.step.kind:
                coaters[maker.key] = maker
                spoilt.setdefault(maker.key, []).append(frame)
        for key, frames in spoilt.items():
            yield self._flag(coaters[key], frames)

    def _flag(self, maker: Frame, spoilers: list[Frame]) -> Flag:
        """Return what is to say of one coat, once: at the first step that works the coated metal."""
        first, *more = spoilers
        so = say(" So it is in {more:count} more after this.", more=len(more)) if more else say("")
        return self.flag(
            first,
            "Step {number:count}, {title}, coated this metal already.{so}",
            hint="Coat it when they are all done." if more else "Do this before that step.",
            mend=move_after(maker, more[-1]) if more else move_before(first, maker),
            also=more,
            number=maker.number,
            title=maker.title,
            so=so,
        )

    examples = (
        Case(
            "A bend after the wax",
            trial(
                step("finish", where=end(200)),
                step("bend", where=at(60), angle=90, inside_radius=20),
            ),
            fires=("s2",),
        ),
        Case(
            "Filed through the paint",
            trial(
                step("finish", where=end(200), coat="paint", heats=0),
                step("file", where=end(20), depth=0.2, heats=0),
            ),
            fires=("s2",),
        ),
        Case(
            "Waxed, then bent and bent again: told once",
            trial(
                step("finish", where=end(200)),
                step("bend", where=at(60), angle=90, inside_radius=20),
                step("bend", where=at(150), angle=90, inside_radius=20),
            ),
            fires=("s2",),
        ),
        Case(
            "The wax last of all",
            trial(
                step("bend", where=at(60), angle=90, inside_radius=20),
                step("finish", where=end(200)),
            ),
        ),
        Case(
            "A second coat, and the other end forged",
            trial(
                step("finish", where=end(100)),
                step("finish", where=end(100)),
                step("draw_out", where=beginning(40), target=square(10)),
            ),
        ),
    )


def _works(frame: Frame) -> bool:
    """Whether the step does anything to the metal but mark it."""
    return bool(frame.heated) or family(frame) != "prepare"


def _coater(past: Past, frame: Frame) -> Frame | None:
    """Return the step that coated metal which this one works or heats, or None."""
    for span in dict.fromkeys((*frame.worked, *frame.heated)):
        if _is_coated(run_of(frame.before, span)):
            maker = past.made_so(frame, span, _is_coated)
            if maker is not None:
                return maker
    return None


def _is_coated(run: Run) -> bool:
    return any(one.treatment.coat for one in run)
