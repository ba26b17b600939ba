"""Short pieces need tongs, and the card says which."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, is_red
from procedures.engine.judging.holding import left_to_hold, tongs_for
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import Mend, SetStep
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.checks import BY_HAND, HELD
from procedures.engine.trial import beginning, end, square, step, trial


class TongsUnnamed(PartRule):
    """Counts the hot steps on a piece under 400 mm that name no tongs, once for each part."""

    code = "holding.tongs_unnamed"
    level = Level.NOTE
    title = "Which tongs"
    help = "A piece shorter than 400 mm is held in tongs, and whoever lays out the tools wants to know which."
    source = "400 mm is common practice, no source"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        unnamed = [one for one in done(part) if _needs_tongs(one) and not one.step.tongs]
        if unnamed:
            yield self._flag(part, unnamed)

    def _flag(self, part: PartReplay, unnamed: list[Frame]) -> Flag:
        count = len(unnamed)
        last = unnamed[-1]
        named = tuple(
            SetStep(one.key, fields={"tongs": tongs_for(one.before, one.heated)}) for one in unnamed
        )
        return self.flag(
            unnamed[0],
            f"{'This hot step works' if count == 1 else '{count:count} hot steps work'} "
            "{part}, shorter than {long:length}, and {name} no tongs.",
            hint="Name them, so that they lie ready and stand on the card.",
            mend=Mend(
                say("Name tongs by size")
                if count == 1
                else say("Name tongs by size in {count:count} steps", count=count),
                named,
            ),
            field="tongs",
            count=count,
            part=last.part.name,
            long=BY_HAND,
            name="names" if count == 1 else "name",
        )

    examples = (
        Case(
            "A short bar drawn at both ends, no tongs named",
            trial(
                step("draw_out", where=end(60), target=square(10)),
                step("draw_out", where=beginning(60), target=square(10)),
                length=250,
            ),
            fires=("s1",),
        ),
        Case(
            "Tongs named",
            trial(step("draw_out", where=end(60), target=square(10), tongs="V-bit tongs, 12 mm"), length=250),
        ),
        Case("A long bar", trial(step("draw_out", where=end(60), target=square(10)))),
    )


def _needs_tongs(frame: Frame) -> bool:
    """Whether it works a short piece hot, of which enough is left to hold; where it is not, that is said."""
    if not is_red(frame) or frame.total_length >= BY_HAND:
        return False
    return left_to_hold(frame) >= HELD
