"""Open a split before its arms are worked."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, holes_made, moves_metal
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import InsertStep, Mend
from procedures.engine.pieces.branch import Attachment, Branch
from procedures.engine.pieces.piece import Piece
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, flat, step, trial, whole

_ROOM = 30.0  # degrees between two arms, below which the hammer does not come between them: from memory
_WIDE = 60.0  # degrees to open each arm from the next


class SplitClosed(PartRule):
    """Looks at arms that are drawn or punched while another lies close beside them."""

    code = "access.split_closed"
    title = "Open the split wide before its arms are worked"
    help = (
        "As long as the arms of a split lie together the hammer hits both. Open them wide, work each, and "
        "close them to their place at the end."
    )
    source = "common practice; 30° from memory"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        for frame in done(part):
            if moves_metal(frame) or holes_made(frame):
                yield from self._closed(frame)

    def _closed(self, frame: Frame) -> Iterator[Flag]:
        piece = frame.before
        for name in dict.fromkeys(span.branch for span in frame.worked):
            arms = _fan(piece, piece.branch(name))
            beside = next((one for one in arms if _is_close(piece.branch(name), one)), None)
            if beside is not None:
                yield self.flag(
                    frame,
                    "{arm} is worked while {other} lies close beside it.",
                    hint="Open the split first.",
                    mend=_opening(frame, arms),
                    arm=name,
                    other=beside.name,
                )
                return

    examples = (
        Case(
            "Arms tapered as the chisel left them",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("taper", where=whole("arms"), end_section=flat(8, 4), heats=2),
                section=flat(30, 8),
            ),
            fires=("s2",),
        ),
        Case(
            "Opened before they are tapered",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("open_split", on="arms", angle=120),
                step("taper", where=whole("arms"), end_section=flat(8, 4), heats=2),
                section=flat(30, 8),
            ),
        ),
    )


def _fan(piece: Piece, branch: Branch) -> tuple[Branch, ...]:
    """Return all arms that hang where this one does, itself too; none where it is no arm."""
    held = branch.attached
    if held is None or not isinstance(held.at, str):
        return ()
    return piece.children(held.parent, held.at)


def _is_close(arm: Branch, other: Branch) -> bool:
    if arm.name == other.name:
        return False
    one, two = _held(arm), _held(other)
    return abs(one.angle - two.angle) < _ROOM and abs(one.elevation - two.elevation) < _ROOM


def _held(branch: Branch) -> Attachment:
    assert branch.attached is not None  # `_fan` gives arms only
    return branch.attached


def _opening(frame: Frame, arms: tuple[Branch, ...]) -> Mend | None:
    """Return the mend that opens the arms before this step; None where they are in no group together."""
    names = {one.name for one in arms}
    group = next((key for key, held in frame.before.groups.items() if set(held) == names), None)
    if group is None:
        return None
    opened = InsertStep(
        "open_split",
        "before",
        frame.key,
        {"on": group, "angle": min(_WIDE * max(len(arms) - 1, 2), 300.0)},
        heats=1,
    )
    return Mend(say("Insert: open {group} before this", group=group), (opened,))
