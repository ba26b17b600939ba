"""Opposite pairs that are not mirror images."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import Sentence, say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import turned_in
from procedures.engine.judging.rule import Case, PartRule
from procedures.engine.mend import Mend, SetStep
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece
from procedures.engine.scale import ScaleHabit
from procedures.engine.trial import at, flat, step, trial, whole

_LENGTH, _SHARE = 1.0, 0.01  # mm, and of the length: as near as arms are measured; our judgement
_SIZE = 0.5  # mm, of a section
_ANGLE = 2.0  # degrees
_TURN = 0.05  # turns of twist
_PLACES = (0.02, 0.25, 0.5, 0.75, 0.98)  # of the length, where sections are compared


class PairUnlike(PartRule):
    """Compares the two members of a group that hang left and right of one place, on the finished piece."""

    code = "group.pair_unlike"
    title = "Pairs are mirror images"
    help = (
        "Two arms that hang left and right of the bar are seen as a pair: alike in length, section, curve "
        "and twist, each the mirror image of the other. Work them as one group, and tick mirrored for what "
        "turns to the left or right, and for a twist."
    )
    source = "common practice, no source"
    instead_of = ("group.not_mirrored",)

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        if part.is_complete:
            for names in part.final.groups.values():
                yield from self._compared(part, names)

    def _compared(self, part: PartReplay, names: tuple[str, ...]) -> Iterator[Flag]:
        if not _is_pair(part.final, names):
            return
        left, right = (part.final.branch(one) for one in names)
        unlike = _unlike(left, right)
        frame = _last_to_part_them(part, names) if unlike else None
        if unlike and frame is not None:
            yield self.flag(
                frame,
                "{left} and {right} come out as no pair: {unlike}.",
                hint=_way_on(frame, names),
                mend=_mirroring(frame, names),
                left=left.name,
                right=right.name,
                unlike=unlike,
            )

    examples = (
        Case(
            "One arm tapered longer than the other",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("open_split", on="arms", angle=120),
                step("taper", where=whole("left"), end_section=flat(8, 4), heats=2),
                step("taper", where=whole("right"), end_section=flat(10, 5), heats=2),
                section=flat(30, 8),
            ),
            fires=("s4",),
        ),
        Case(
            "Both arms bent to the left, on edge",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("open_split", on="arms", angle=60),
                step(
                    "bend",
                    where=at(50, on="arms"),
                    meaning="arc_middle",
                    angle=30,
                    inside_radius=30,
                    turn="left",
                ),
                section=flat(30, 12),
            ),
            fires=("s3",),
        ),
        Case(
            "Bent up and down in one step, mirrored where it should not be",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("open_split", on="arms", angle=60),
                step(
                    "bend",
                    where=at(50, on="arms"),
                    meaning="arc_middle",
                    angle=30,
                    inside_radius=30,
                    mirrored=True,
                ),
                section=flat(30, 12),
            ),
            fires=("s3",),
        ),
        Case(
            "Both tapered and scrolled in one step each",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("open_split", on="arms", angle=120),
                step("taper", where=whole("arms"), end_section=flat(8, 4), heats=2),
                step("scroll", on="arms", inner=9, outer=20, turns=0.75, heats=2),
                section=flat(30, 8),
            ),
        ),
        Case(
            "Bent to the left and to the right",
            trial(
                step("split", where=at(100), children=["left", "right"], heats=2),
                step("open_split", on="arms", angle=60),
                step(
                    "bend",
                    where=at(50, on="arms"),
                    meaning="arc_middle",
                    angle=30,
                    inside_radius=30,
                    turn="left",
                    mirrored=True,
                ),
                section=flat(30, 12),
            ),
        ),
    )


def _is_pair(piece: Piece, names: tuple[str, ...]) -> bool:
    """Whether two branches hang left and right of one place."""
    if len(names) != 2 or not all(piece.has_branch(one) for one in names):
        return False
    left, right = (piece.branch(one).attached for one in names)
    if left is None or right is None or (left.parent, left.at) != (right.parent, right.at):
        return False
    return left.offset * right.offset < 0 or left.angle * right.angle < 0


def _unlike(left: Branch, right: Branch) -> Sentence | None:
    """Return in what two branches differ from mirror images, in words; None where they do not."""
    if abs(left.length - right.length) > max(_LENGTH, _SHARE * left.length):
        return say("{one:length} and {two:length} long", one=left.length, two=right.length)
    for share in _PLACES:
        one, two = (branch.section_at(share * branch.length) for branch in (left, right))
        if not one.is_close(two, _SIZE):
            return say("{one:section} and {two:section} at the same place", one=one, two=two)
    return _turned_unlike(left, right) or _twisted_unlike(left, right)


def _turned_unlike(left: Branch, right: Branch) -> Sentence | None:
    up, other = turned_in(left, "easy"), turned_in(right, "easy")
    if abs(up - other) > _ANGLE:
        return say("they turn {one:angle} and {two:angle} up", one=up, two=other)
    out, other = turned_in(left, "hard"), -turned_in(right, "hard")
    if abs(out - other) <= _ANGLE:
        return None
    if abs(out + other) <= _ANGLE:
        return say("both turn to the same side")
    return say("they turn {one:angle} and {two:angle} to the side", one=abs(out), two=abs(other))


def _twisted_unlike(left: Branch, right: Branch) -> Sentence | None:
    one, two = (sum(segment.twist for segment in branch.segments) for branch in (left, right))
    if abs(one + two) <= _TURN:
        return None
    if abs(one - two) <= _TURN:
        return say("both are twisted to the same hand")
    return say("they have {one:number} and {two:number} turns of twist", one=abs(one), two=abs(two))


def _last_to_part_them(part: PartReplay, names: tuple[str, ...]) -> Frame | None:
    """Return the step at which the two last became unlike."""
    for frame in reversed(part.frames):
        if not all(frame.before.has_branch(one) for one in names):
            return frame
        if _unlike(*(frame.before.branch(one) for one in names)) is None:
            return frame
        worked = {span.branch for span in frame.after.worked}.intersection(names)
        if len(worked) == 1:
            return frame
    return None


def _way_on(frame: Frame, names: tuple[str, ...]) -> str:
    if not _works_both(frame, names):
        return "Work both in one step on their group."
    if getattr(frame.operation, "mirrored", False):
        return "Up and down are no mirror images: take the tick off mirrored."
    return "Tick mirrored in the step that works both."


def _mirroring(frame: Frame, names: tuple[str, ...]) -> Mend | None:
    """Return the mend of a step on both that is mirrored and should not be, or the other way about."""
    ticked = getattr(frame.operation, "mirrored", None)
    if ticked is None or not _works_both(frame, names):
        return None
    label = say("Take the tick off mirrored") if ticked else say("Tick mirrored")
    return Mend(label, (SetStep(frame.key, params={"mirrored": not ticked}),))


def _works_both(frame: Frame, names: tuple[str, ...]) -> bool:
    return {span.branch for span in frame.after.worked}.issuperset(names)
