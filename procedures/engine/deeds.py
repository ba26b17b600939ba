"""What a step did to the metal, told from its frame: for rules, which know no operation by name.

Whatever is asked here is asked of steps that came about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from .checks import WELD_THIN
from .feature import Feature
from .frames import Frame, PartReplay
from .metal import run_of, same_metal
from .path import Arc, Spiral
from .piece import Piece
from .place import Span
from .segment import Segment

Run = tuple[Segment, ...]
_GROWTH = 1.02  # of the area: less is the rounding of a size


def done(part: PartReplay) -> Iterator[Frame]:
    """Yield the steps of a part that came about."""
    return (one for one in part.frames if one.status == "done")


def family(frame: Frame) -> str:
    """Return the family of its operation."""
    return frame.step.kind.family if frame.step.kind else ""


def is_hot(frame: Frame) -> bool:
    """Whether it is done on hot metal."""
    return frame.step.kind is not None and frame.step.kind.heat is not None and bool(frame.heated)


def welds(frame: Frame) -> bool:
    """Whether it joins metal at a welding heat."""
    return frame.step.kind is not None and frame.step.kind.usual_welding_heats > 0


def moves_metal(frame: Frame) -> bool:
    """Whether it gives the metal another section."""
    return family(frame) == "move"


def upsets(frame: Frame) -> bool:
    """Whether it makes the metal shorter and thicker."""
    if not moves_metal(frame):
        return False
    before, after = run_before(frame), run_after(frame)
    shorter = sum(one.length for one in after) < sum(one.length for one in before)
    return shorter and _thickest(after) > _GROWTH * _thickest(before)


def twists(frame: Frame) -> bool:
    """Whether it twists the bar."""
    return any(one.twist for one in run_after(frame)) and not all(one.twist for one in run_before(frame))


def holes_made(frame: Frame) -> tuple[tuple[str, Feature], ...]:
    """Return the holes that are new after it, each with the name of its branch."""
    made = []
    for name in {one.branch for one in frame.after.worked}:
        if not frame.after.has_branch(name):
            continue
        features = frame.after.branch(name).features
        had = frame.before.branch(name).features if frame.before.has_branch(name) else ()
        known = {(one.kind, one.name) for one in had}
        made += [(name, one) for one in features if one.is_hole and (one.kind, one.name) not in known]
    return tuple(made)


def run_before(frame: Frame) -> Run:
    """Return the metal it worked, as it was before."""
    return tuple(one for span in frame.worked for one in run_of(frame.before, span))


def run_after(frame: Frame) -> Run:
    """Return the metal it worked, as it left it."""
    return tuple(one for span in frame.after.worked for one in run_of(frame.after, span))


def _thickest(run: Run) -> float:
    return max((max(one.start.area, one.end.area) for one in run), default=0.0)


# -- how metal is ------------------------------------------------------------------------------------


def least(segment: Segment) -> float:
    """Return the smallest size of a segment's sections [mm]."""
    return min(one for end in (segment.start, segment.end) for one in (end.width, end.thickness))


def is_scrolled(run: Run) -> bool:
    """Whether any of it is rolled up in a scroll."""
    return any(isinstance(one.path, Spiral) for one in run)


def is_thin(run: Run, limit: float = WELD_THIN) -> bool:
    """Whether any of it is thinner than the limit [mm]."""
    return any(least(one) < limit for one in run)


def is_curved(run: Run) -> bool:
    """Whether any of it is bent, scrolled or twisted."""
    return any(not one.is_straight for one in run)


def turned(segment: Segment) -> float:
    """Return how far a segment turns [degrees], whichever way."""
    path = segment.path
    if isinstance(path, Arc):
        return path.angle
    return 360 * path.turns if isinstance(path, Spiral) else 0.0


# -- which step did it -------------------------------------------------------------------------------

Test = Callable[[Run], bool]


def made_so(part: PartReplay, frame: Frame, span: Span, test: Test, *, first: bool = False) -> Frame | None:
    """Return the step that made the metal of a range, as `frame` finds it, pass a test it did not pass before.

    The last such step, or the `first`. None where the bar came so, or another part brought it along.
    """
    earlier = part.frames[: frame.number - 1]
    for one in earlier if first else reversed(earlier):
        for worked in one.after.worked:
            if (
                test(run_of(one.after, worked))
                and not _passed(one, worked, test)
                and same_metal(one.after, worked, frame.before, span)
            ):
                return one
    return None


def _passed(frame: Frame, worked: Span, test: Test) -> bool:
    """Whether the metal of a range that a step worked passed the test before it."""
    same = [one for one in frame.worked if one.branch == worked.branch] or list(frame.worked)
    return any(test(run_of(frame.before, one)) for one in same)


def maker_of_hole(part: PartReplay, frame: Frame, hole: Feature, branch: str) -> Frame | None:
    """Return the step that made a hole that `frame` finds on a branch, or None."""
    where = Span(branch, max(hole.at - hole.length / 2, 0.0), hole.at + hole.length / 2)
    for one in reversed(part.frames[: frame.number - 1]):
        for name, made in holes_made(one):
            there = Span(name, max(made.at - made.length / 2, 0.0), made.at + made.length / 2)
            if same_metal(one.after, there, frame.before, where):
                return one
    return None


# -- how much of it there is -------------------------------------------------------------------------


def total_length(piece: Piece) -> float:
    """Return the length of all branches together [mm]."""
    return sum(one.length for one in piece.branches)


def free_ends(piece: Piece, reach: float) -> Iterator[Span]:
    """Yield the last `reach` mm at every free end of the piece; all of a branch that is shorter."""
    for branch in piece.branches:
        length = min(reach, branch.length)
        if branch.attached is None and not piece.children(branch.name, "start"):
            yield Span(branch.name, 0.0, length)
        if not piece.children(branch.name, "end"):
            yield Span(branch.name, branch.length - length, branch.length)


def overlap(first: Span, second: Span) -> float:
    """Return the length that two ranges have in common [mm]; below 0 how far apart they are on one branch."""
    if first.branch != second.branch:
        return float("-inf")
    return min(first.high, second.high) - max(first.low, second.low)
