"""What is held is finished last."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import Past, done, is_red, is_scrolled, run_of
from procedures.engine.judging.holding import cold_ends
from procedures.engine.judging.rule import Case, PartRule, move_after
from procedures.engine.pieces.metal import Run
from procedures.engine.pieces.segment import Segment
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.checks import BY_HAND, WELD_THIN
from procedures.engine.trial import at, beginning, end, square, step, trial

_NARROW = 12.0  # mm across, above which a thin end is a plate: our judgement


class FinishedEndHeld(PartRule):
    """Looks whether every cold end of a short piece is a point, a leaf or a scroll made before."""

    code = "holding.finished_end_held"
    title = "What is held is finished last"
    help = (
        "Tongs crush a point, a leaf or a scroll, and slip on them. Leave the end that the piece is held by "
        "as bar until the other end is done, or name tongs that fit the finished end."
    )
    source = "common practice; 4 mm and 400 mm from memory"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        past = Past(part)
        held: dict[str, list[Frame]] = {}
        makers: dict[str, Frame] = {}
        for frame in done(part):
            if is_red(frame) and not frame.step.tongs and frame.total_length <= BY_HAND:
                maker = _finisher(past, frame)
                if maker is not None:
                    makers[maker.key] = maker
                    held.setdefault(maker.key, []).append(frame)
        for key, frames in held.items():
            yield self._flag(makers[key], frames)

    def _flag(self, maker: Frame, held: list[Frame]) -> Flag:
        """Return what is to say once of all steps in which the piece is held by one finished end."""
        first, *more = held
        so = {0: say(""), 1: say(" So it is in one more step after this.")}.get(
            len(more), say(" So it is in {more:count} more steps after this.", more=len(more))
        )
        return self.flag(
            first,
            "It can only be held by an end that step {number:count}, {title}, finished.{so}",
            hint="Finish that end after {these}, or name tongs that fit it.",
            mend=move_after(maker, held[-1]),
            number=maker.number,
            title=maker.title,
            so=so,
            these="these steps" if more else "this step",
        )

    examples = (
        Case(
            "A scroll at one end, then the other end tapered: held by the scroll",
            trial(
                step("scroll", on="bar", inner=10, outer=25, turns=0.75, heats=2, tongs="V-bit tongs"),
                step("taper", where=beginning(60), end_section=square(5), heats=2),
                length=300,
            ),
            fires=("s2",),
        ),
        Case(
            "Held by the scroll for two steps: told once",
            trial(
                step("scroll", on="bar", inner=10, outer=25, turns=0.75, heats=2, tongs="V-bit tongs"),
                step("taper", where=beginning(60), end_section=square(5), heats=2),
                step("bend", where=at(20, "start"), angle=60, inside_radius=12),
                length=300,
            ),
            fires=("s2",),
        ),
        Case(
            "A plate beaten flat",
            trial(
                step("flatten", where=end(40), thickness=3.5, bite=20, tongs="V-bit tongs", heats=2),
                step("taper", where=beginning(60), end_section=square(5), heats=2),
                length=200,
            ),
        ),
        Case(
            "Waxed as a whole at a black heat, hung on a wire",
            trial(
                step("point", where=end(30), tip=2, tongs="V-bit tongs"),
                step("finish", where=beginning(60)),
                length=200,
            ),
        ),
        Case(
            "A point at one end, the scroll last",
            trial(
                step("bend", where=at(100, "start"), angle=90, inside_radius=10),
                step("scroll", on="bar", inner=10, outer=25, turns=0.75, heats=2),
                length=300,
            ),
        ),
        Case(
            "A long bar is held in the middle",
            trial(
                step("scroll", on="bar", inner=10, outer=25, turns=0.75, heats=2),
                step("taper", where=beginning(60), end_section=square(5), heats=2),
            ),
        ),
        Case(
            "Tongs named for the finished end",
            trial(
                step("point", where=end(30), tip=2),
                step("taper", where=beginning(60), end_section=square(5), tongs="Soft jaws"),
                length=300,
            ),
        ),
    )


def _is_fine(run: Run) -> bool:
    """Whether a run is a scroll, a leaf or a point; a plate beaten flat is held in flat tongs."""
    return is_scrolled(run) or any(one.bulge or _is_point(one) for one in run)


def _is_point(segment: Segment) -> bool:
    ends = ((one.width, one.thickness) for one in (segment.start, segment.end))
    return any(min(one) < WELD_THIN and max(one) < _NARROW for one in ends)


def _finisher(past: Past, frame: Frame) -> Frame | None:
    """Return the step that finished the last of the cold ends; None where one is bar as it came."""
    ends = tuple(cold_ends(frame.before, frame.heated))
    if not ends or not all(_is_fine(run_of(frame.before, one)) for one in ends):
        return None
    makers = [past.made_so(frame, one, _is_fine) for one in ends]
    found = [one for one in makers if one is not None]
    return max(found, key=lambda one: one.number) if len(found) == len(ends) else None
