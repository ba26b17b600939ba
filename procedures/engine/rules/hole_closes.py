"""A hole that later hammering closes."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, done, moves_metal
from procedures.engine.judging.rule import Case, PartRule, move_after
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.holes import holes_between
from procedures.engine.trial import at, end, flat, square, step, trial


class HoleCloses(PartRule):
    """Looks for holes of earlier steps inside metal that is drawn, flattened or upset."""

    code = "order.hole_closes"
    title = "Holes after the section is done"
    help = "Metal that is hammered closes the holes in it, and drags them out of round. Punch afterwards."
    source = "geometry"
    instead_of = ("shape.hole_worked",)

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        for frame in done(part):
            if moves_metal(frame):
                yield from self._holes(past, frame)

    def _holes(self, past: Past, frame: Frame) -> Iterator[Flag]:
        for span in frame.worked:
            branch = frame.before.branch(span.branch)
            for hole in holes_between(branch, span) if branch.features else ():
                maker = past.maker_of_hole(frame, span.branch, hole)
                if maker is not None:
                    yield self.flag(
                        frame,
                        "This works over {hole}, made in step {number:count}, {title}: it closes.",
                        hint="Make the hole after this step.",
                        mend=move_after(maker, frame),
                        hole=hole.name if hole.name not in ("", "hole") else "the hole",
                        number=maker.number,
                        title=maker.title,
                    )
                    return

    examples = (
        Case(
            "An end flattened over its hole",
            trial(
                step("punch", where=[at(25)], size=5, heats=2),
                step("flatten", where=end(60), thickness=5, bite=20),
            ),
            fires=("s2",),
        ),
        Case(
            "The hole in the flattened end",
            trial(
                step("flatten", where=end(60), thickness=5, bite=20),
                step("punch", where=[at(25)], size=5, heats=2),
            ),
        ),
        Case(
            "A hole behind the metal that is drawn",
            trial(
                step("punch", where=[at(200)], size=6, heats=2),
                step("draw_out", where=end(100), target=square(10), heats=2),
                section=flat(16, 10),
            ),
        ),
    )
