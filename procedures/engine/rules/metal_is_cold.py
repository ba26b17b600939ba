"""A step that belongs to an earlier heat."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, family, is_hot, overlap, welds
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import Mend, SetStep
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, beginning, end, square, step, trial

_NEAR = 60.0  # mm beside what was heated that is hot enough too: from memory


class MetalIsCold(PartRule):
    """Follows which metal is still hot, and looks at hot steps that plan no heat of their own."""

    code = "heat.metal_is_cold"
    title = "Whose heat is it?"
    help = (
        "A step without a heat of its own uses the heat of the step before it. That works only where the "
        "same metal was hot, and nothing cold came between; measuring does not count."
    )
    source = "common practice; 60 mm from memory"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        yield from self._followed(part)

    def _followed(self, part: PartReplay) -> Iterator[Flag]:
        hot: tuple[Span, ...] = ()
        for frame in done(part):
            if family(frame) == "check":
                continue
            if not is_hot(frame):
                hot = ()
            elif frame.step.heats or frame.step.welding_heats:
                hot = _still_hot(frame, frame.heated)
            elif welds(frame):
                continue  # a weld without its heat is another rule's
            else:
                if not all(any(_close(frame.before, one, other) for other in hot) for one in frame.heated):
                    yield self._flag(frame, bool(hot))
                hot = _still_hot(frame, hot)

    def _flag(self, frame: Frame, other: bool) -> Flag:
        heats = max(frame.step.kind.usual_heats[1], 1) if frame.step.kind else 1
        why = "the heat before it was elsewhere" if other else "nothing before it left the metal hot"
        return self.flag(
            frame,
            f"No heat is planned here, and {why}.",
            hint="Plan a heat, or put it right after the step whose heat it uses.",
            field="heats",
            mend=Mend(
                say("Plan {heats:count} heats", heats=heats) if heats > 1 else say("Plan one heat"),
                (SetStep(frame.key, fields={"heats": heats}),),
            ),
        )

    examples = (
        Case(
            "A bend without a heat, after the other end was drawn",
            trial(
                step("draw_out", where=end(60), target=square(10), heats=1),
                step("bend", where=at(100, "start"), angle=90, inside_radius=10, heats=0),
            ),
            fires=("s2",),
        ),
        Case(
            "A bend without a heat, on a bar that was only marked",
            trial(
                step("mark_out", marks=[{"name": "B", **at(100)}], heats=0),
                step("bend", where=at(100), angle=90, inside_radius=10, heats=0),
            ),
            fires=("s2",),
        ),
        Case(
            "A bend in the heat of the draw",
            trial(
                step("draw_out", where=end(60), target=square(10), heats=1),
                step("bend", where=at(40), angle=90, inside_radius=10, heats=0),
            ),
        ),
        Case(
            "A heat of its own step, then a twist in it",
            trial(
                step("heat", where=beginning(100), heats=1),
                step("twist", where=beginning(100), turns=1, heats=0),
            ),
        ),
    )


def _still_hot(frame: Frame, hot: tuple[Span, ...]) -> tuple[Span, ...]:
    """Return the ranges that are hot after a step: what was hot, and what that became."""
    return (*frame.after.worked, *(one for one in hot if frame.after.has_branch(one.branch)))


def _close(piece: Piece, wanted: Span, hot: Span) -> bool:
    """Whether a range is hot enough from another; one that hangs on it is near enough."""
    if wanted.branch == hot.branch:
        return overlap(wanted, hot) > -_NEAR
    if not piece.has_branch(hot.branch):
        return False
    mine, other = (_parent(piece, one.branch) for one in (wanted, hot))
    return hot.branch == mine or wanted.branch == other or (mine != "" and mine == other)


def _parent(piece: Piece, branch: str) -> str:
    attached = piece.branch(branch).attached
    return attached.parent if attached else ""
