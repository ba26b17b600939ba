"""Tapers before scrolls: drawing close to a scroll that is there already."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, done, is_scrolled, moves_metal, run_of, upsets
from procedures.engine.judging.rule import Case, PartRule, move_before
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.zones import around
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.checks import WELD_NEAR
from procedures.engine.trial import beginning, end, square, step, trial


class SectionByScroll(PartRule):
    """Looks beside every run that is drawn, tapered or flattened for a scroll of an earlier step."""

    code = "order.section_by_scroll"
    title = "Tapers before scrolls"
    help = (
        "The blows that thin the bar beside a scroll open it, and the scroll is in the way of the hammer. "
        "Draw and taper first, scroll last. Upsetting has a rule of its own."
    )
    source = "60 mm from memory; the order is common practice"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        for frame in done(part):
            if moves_metal(frame) and not upsets(frame):
                yield from self._beside(past, frame)

    def _beside(self, past: Past, frame: Frame) -> Iterator[Flag]:
        for span in frame.worked:
            branch = frame.before.branch(span.branch)
            if not is_scrolled(branch.segments):
                continue
            near = around(branch, span.low, span.high, WELD_NEAR)
            for side in (Span(span.branch, near.low, span.low), Span(span.branch, span.high, near.high)):
                if not is_scrolled(run_of(frame.before, side)):
                    continue
                maker = past.made_so(frame, side, is_scrolled)
                if maker is not None:
                    yield self._flag(frame, maker)
                    return

    def _flag(self, frame: Frame, maker: Frame) -> Flag:
        return self.flag(
            frame,
            "This works the bar within {near:length} of the scroll of step {number:count}, {title}.",
            hint="Do it before the scroll.",
            mend=move_before(frame, maker),
            near=WELD_NEAR,
            number=maker.number,
            title=maker.title,
        )

    examples = (
        Case(
            "A bar drawn behind the scroll at its end",
            trial(
                step("scroll", on="bar", inner=15, outer=40, turns=1, heats=2),
                step(
                    "draw_out",
                    where=beginning(100, offset=300),
                    target=square(10),
                    heats=2,
                ),
                length=620,
            ),
            fires=("s2",),
        ),
        Case(
            "The other end of a long bar",
            trial(
                step("scroll", on="bar", inner=15, outer=40, turns=1, heats=2),
                step(
                    "taper",
                    where={"on": "bar", "datum": "start", "length": 60},
                    end_section=square(5),
                    heats=2,
                ),
            ),
        ),
        Case(
            "A taper, then the scroll of its end",
            trial(
                step("taper", where=end(60), end_section=square(5), heats=2),
                step("scroll", on="bar", inner=10, outer=30, turns=0.5, heats=2),
            ),
        ),
    )
