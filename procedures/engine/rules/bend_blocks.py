"""A bend before the section work that it blocks."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, is_curved
from procedures.engine.judging.rule import Case, PartRule, move_before
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, end, square, step, trial

_BLOCKED = "shape.curved_metal"


class BendBlocks(PartRule):
    """Names the step that curved the metal which a stopped step needs straight."""

    code = "order.bend_blocks"
    level = Level.NOTE
    title = "Section work before bending"
    help = (
        "On a curve the inside and the outside differ in length, so the bar cannot be drawn, upset or "
        "flattened there evenly. Everything that changes the section comes before the bending."
    )
    source = "geometry"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        for frame in part.frames:
            if frame.status == "stopped" and any(one.code == _BLOCKED for one in frame.findings):
                yield from self._blocked(past, frame)

    def _blocked(self, past: Past, frame: Frame) -> Iterator[Flag]:
        makers = (past.made_so(frame, span, is_curved, first=True) for span in frame.worked)
        first = min((one for one in makers if one is not None), key=lambda one: one.number, default=None)
        if first is not None:
            yield self.flag(
                frame,
                "Step {number:count}, {title}, comes to this run before its section is done.",
                hint="Do this step first.",
                mend=move_before(frame, first),
                number=first.number,
                title=first.title,
            )

    examples = (
        Case(
            "A bend before the draw it blocks",
            trial(
                step("bend", where=at(100), angle=90, inside_radius=10),
                step("draw_out", where=end(150), target=square(10), heats=2),
            ),
            fires=("s2",),
            stops=True,
        ),
        Case(
            "A twist before the draw it blocks, with a step between",
            trial(
                step("twist", where=end(100), turns=1),
                step("bend", where=at(300, "start"), angle=90, inside_radius=10),
                step("draw_out", where=end(60), target=square(10), heats=2),
            ),
            fires=("s3",),
            stops=True,
        ),
        Case(
            "The draw first",
            trial(
                step("draw_out", where=end(150), target=square(10), heats=2),
                step("bend", where=at(100), angle=90, inside_radius=10),
            ),
        ),
    )
