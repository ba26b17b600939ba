"""Many members of a group, and the heats planned for one of them."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, is_hot
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import Stored, at, end, flat, square, step, trial

_HELD = 4  # small ends of a group that one heat still does for, one after the other: from memory


def _split_in(count: int) -> Stored:
    """Return the step that splits the last 80 mm of a bar into so many tines."""
    tines = [f"tine {number}" for number in range(1, count + 1)]
    return step("split", where=at(80), children=tines, group="tines")


class HeatForEach(PartRule):
    """Tells how many heats a step comes to where it works more members than one heat holds."""

    code = "heat.heat_for_each"
    level = Level.NOTE
    title = "Heats of every member"
    help = (
        "The heats of a step on a group are those of one member, and every member takes them: while one is "
        "worked the next goes cold. Two or three small ends may be done out of one heat; forty are not."
    )
    source = "4 ends out of one heat: from memory"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        told: set[frozenset[str]] = set()  # a group is spoken of once, where it is first worked
        for frame in done(part):
            members = frozenset(one.branch for one in frame.worked)
            if is_hot(frame) and frame.step.heats and len(members) > _HELD and members not in told:
                told.add(members)
                yield self._reckoned(frame, len(members))

    def _reckoned(self, frame: Frame, members: int) -> Flag:
        heats = frame.step.heats
        planned = "One heat is" if heats == 1 else "{heats:count} heats are"
        return self.flag(
            frame,
            f"{planned} planned for each of {{members:count}} members: {{all:count}} in all, "
            "as one heat does not hold them.",
            hint="Time and fuel are reckoned for {all:count}: plan what one member takes.",
            field="heats",
            heats=heats,
            members=members,
            all=heats * members,
        )

    examples = (
        Case(
            "The eight tines of a rake: said where they are first worked",
            trial(
                _split_in(8),
                step("draw_out", where=end(60, on="tines"), target=square(8), heats=3),
                step("draw_out", where=end(60, on="tines"), target=square(7), heats=2),
                section=flat(80, 10),
            ),
            fires=("s2",),
        ),
        Case(
            "A fork of three",
            trial(
                _split_in(3),
                step("draw_out", where=end(60, on="tines"), target=square(8), heats=3),
                section=flat(30, 10),
            ),
        ),
        Case(
            "Eight tines filed cold",
            trial(
                _split_in(8),
                step("finish", where={"on": "tines", "datum": "whole"}, heats=0),
                section=flat(80, 10),
            ),
        ),
    )
