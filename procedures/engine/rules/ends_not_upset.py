"""Upset both ends before a lap weld."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.wording import say
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import InsertStep, Mend
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import end, part, square, step, trials

_FOUND = "weld_lap.not_upset"
_FULLER = 1.25  # times as thick; Googerty takes a 3/4 in. round to about 1 in., by a third
_HOT = 3.0  # thicknesses of free bar that upset without bending
_LAP: dict[str, Any] = {"on": "bar", "part": "rod", "zone": 40, "dressed": square(12)}


class EndsNotUpset(PartRule):
    """Offers to put the missing upset in, where a lap weld is made of ends as the bar left them."""

    code = "weld.ends_not_upset"
    level = Level.NOTE
    title = "Upset before scarfing"
    help = (
        "Scarfing thins the end, and two welding heats scale it: without metal gathered first the bar comes "
        "out thin beside the weld."
    )
    source = "Ilgen, Forge Work, 1912; Drew, Farm Blacksmithing, 1918"
    instead_of = (_FOUND,)

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        for frame in done(part):
            if any(found.code == _FOUND for found in frame.findings):
                yield self.flag(
                    frame,
                    "Neither end is upset, so the bar comes out thin beside the weld.",
                    hint="Upset both ends by a quarter to a third before scarfing them.",
                    mend=_upsetting(frame),
                )

    examples = (
        Case(
            "Two bars welded as they are",
            trials(
                part(step("weld_lap", **_LAP, welding_heats=2), length=200),
                part(key="rod", length=200),
            ),
            fires=("s1",),
        ),
        Case(
            "One of them upset first",
            trials(
                part(
                    step("upset", where=end(36), target=square(15), heats=2),
                    step("weld_lap", **_LAP, welding_heats=2),
                    length=200,
                ),
                part(key="rod", length=200),
            ),
        ),
    )


def _upsetting(frame: Frame) -> Mend:
    """Return the mend that upsets this part's end before the weld."""
    span = frame.worked[0]
    branch = frame.before.branch(span.branch)
    at_end = span.high > branch.length - 1
    section = branch.section_at(branch.length if at_end else 0.0)
    hot = round(min(_HOT * min(section.width, section.thickness), span.length, branch.length))
    upset = InsertStep(
        "upset",
        "before",
        frame.key,
        {
            "where": {"on": span.branch, "datum": "end" if at_end else "start", "length": float(hot)},
            "target": section.scaled(_FULLER).to_json(),
        },
        heats=2,
    )
    return Mend(say("Insert: upset {branch} before this", branch=span.branch), (upset,))
