"""Upset, weld and punch before thin, scrolled or textured parts close by."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import (
    Past,
    done,
    holes_made,
    is_hot,
    is_scrolled,
    is_thin,
    least,
    run_before,
    run_of,
    upsets,
    welds,
)
from procedures.engine.judging.rule import Case, PartRule, move_before
from procedures.engine.pieces.metal import Run
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.zones import around
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.checks import WELD_NEAR, WELD_THIN
from procedures.engine.trial import at, end, flat, square, step, trial

_FINER = 0.75  # of the thickness punched: thinner metal beside it gets hot before it does; our judgement


class HeavyAfterFine(PartRule):
    """Looks 60 mm to both sides of every upset, weld and hole for what an earlier step made fine."""

    code = "order.heavy_after_fine"
    title = "Heavy work before fine parts"
    help = (
        "A weld, an upset or a punched hole needs a hot heat and hard blows. What lies close by gets as hot: "
        "a thin part burns, a scroll loses its shape, a texture is lost."
    )
    source = "60 mm from memory; the order is common practice"
    instead_of = ("weld.finished_part_near",)

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        for frame in done(part):
            work, limit = _work(frame)
            if work:
                yield from self._near(past, frame, work, limit)

    def _near(self, past: Past, frame: Frame, work: str, limit: float) -> Iterator[Flag]:
        for side in _beside(frame):
            run = run_of(frame.before, side)
            for fine, is_so, test in (
                ("thin", is_thin(run, limit), is_thin),
                ("scrolled", is_scrolled(run), is_scrolled),
                ("textured", _is_textured(run), _is_textured),
            ):
                maker = past.made_so(frame, side, test) if is_so else None
                if maker is not None:
                    yield self._flag(frame, maker, work, fine)
                    return

    def _flag(self, frame: Frame, maker: Frame, work: str, fine: str) -> Flag:
        return self.flag(
            frame,
            "{work} comes within {near:length} of metal that step {number:count}, {title}, made {fine}.",
            hint="Do it before that step, or keep the fine part cool.",
            mend=move_before(frame, maker),
            work=work,
            near=WELD_NEAR,
            number=maker.number,
            title=maker.title,
            fine=fine,
        )

    examples = (
        Case(
            "An end upset after the bar behind it was drawn down to 3 mm",
            trial(
                step("draw_out", where=end(60, offset=60), target=square(3), heats=4),
                step("upset", where=end(30), target=square(13)),
            ),
            fires=("s2",),
        ),
        Case(
            "The end upset first",
            trial(
                step("upset", where=end(30), target=square(13)),
                step("draw_out", where=end(60, offset=60), target=square(3), heats=4),
            ),
        ),
        Case(
            "A hole punched beside a scroll",
            trial(
                step("scroll", on="bar", inner=15, outer=40, turns=1),
                step("punch", where=[at(210)], size=6),
                section=flat(20, 6),
            ),
            fires=("s2",),
        ),
        Case(
            "A hole in a plate that was beaten flat: thin itself, and no thinner beside the hole",
            trial(
                step("flatten", where=end(60), thickness=3.5, bite=20),
                step("punch", where=[at(25)], size=5),
            ),
        ),
        Case(
            "A hole far from the scroll",
            trial(
                step("scroll", on="bar", inner=15, outer=40, turns=1),
                step("punch", where=[at(500)], size=6),
                section=flat(20, 6),
            ),
        ),
    )


def _work(frame: Frame) -> tuple[str, float]:
    """Return what heavy work a step is, "" for none, and below what [mm] metal beside it is thin."""
    if welds(frame):
        return "This weld", WELD_THIN
    if upsets(frame):
        return "This upset", WELD_THIN
    if is_hot(frame) and holes_made(frame):
        worked = min((least(one) for one in run_before(frame)), default=0.0)
        return "This hole", min(WELD_THIN, _FINER * worked)
    return "", 0.0


def _beside(frame: Frame) -> Iterator[Span]:
    """Yield the ranges beside what a step works, 60 mm long or as long as there is bar."""
    for span in frame.worked:
        if frame.before.has_branch(span.branch):
            near = around(frame.before.branch(span.branch), span.low, span.high, WELD_NEAR)
            yield Span(span.branch, near.low, span.low)
            yield Span(span.branch, span.high, near.high)


def _is_textured(run: Run) -> bool:
    return any(one.texture for one in run)
