"""What a step did to the metal, told from its frame: for rules, which know no operation by name.

Whatever is asked here is asked of steps that came about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from procedures.engine.frames import Frame, PartReplay
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.metal import Metal, Run, metal_of, same_metal
from procedures.engine.pieces.path import Plane, Spiral, Straight
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.shaping.checks import WELD_THIN

_GROWTH = 1.02  # of the area: less is the rounding of a size
_RED = 600.0  # °C, below which no colour is seen


def done(part: PartReplay) -> Iterator[Frame]:
    """Yield the steps of a part that came about."""
    return (one for one in part.frames if one.status == "done")


def family(frame: Frame) -> str:
    """Return the family of its operation."""
    return frame.step.kind.family if frame.step.kind else ""


def is_hot(frame: Frame) -> bool:
    """Whether it is done on hot metal."""
    return frame.step.kind is not None and frame.step.kind.heat is not None and bool(frame.heated)


def is_red(frame: Frame) -> bool:
    """Whether it is done on glowing metal, and not only warmed for wax, oil or tempering."""
    planned = frame.operation.planned_heat(frame.before) if frame.operation else None
    return planned is not None and planned[1] >= _RED and is_hot(frame)


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
    return _twisted(run_before(frame)) != _twisted(run_after(frame))


def _twisted(run: Run) -> float:
    return sum(one.twist for one in run)


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
    return tuple(one for metal in frame.found for one in metal.run)


def run_after(frame: Frame) -> Run:
    """Return the metal it worked, as it left it."""
    return tuple(one for metal in frame.left for one in metal.run)


def run_of(piece: Piece, span: Span) -> Run:
    """Return the segments of a range; none where its branch is not on the piece."""
    return metal_of(piece, span).run


def _thickest(run: Run) -> float:
    return max((max(one.start.area, one.end.area) for one in run), default=0.0)


# -- how metal is ------------------------------------------------------------------------------------


def least(segment: Segment) -> float:
    """Return the smallest size of a segment [mm]; the tips of a leaf are narrow and do not count."""
    if segment.bulge:
        return min(segment.start.thickness, segment.widest.width, segment.end.thickness)
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


def is_bent(run: Run) -> bool:
    """Whether any of it is bent or scrolled; it may be twisted."""
    return any(not isinstance(one.path, Straight) for one in run)


def turned(segment: Segment) -> float:
    """Return how far a segment turns [degrees], whichever way."""
    path = segment.path
    if isinstance(path, Straight):
        return 0.0
    return 360 * path.turns if isinstance(path, Spiral) else path.angle


def turned_in(branch: Branch, plane: Plane) -> float:
    """Return how far a branch turns in a plane from its start to its end [degrees], up or left positive."""
    turns = 0.0
    for one in branch.segments:
        if not isinstance(one.path, Straight) and one.path.plane == plane:
            turns += one.path.turn * turned(one)
    return turns


# -- which step did it -------------------------------------------------------------------------------

Test = Callable[[Run], bool]


class Past:
    """The steps of one part, asked for the one that made its metal what a later step finds.

    What a step did is found out once, so that asking at every step stays cheap.
    """

    def __init__(self, part: PartReplay) -> None:
        self.part = part
        self._makers: dict[Test, tuple[tuple[Frame, Metal], ...]] = {}
        self._holes: tuple[tuple[Frame, Metal], ...] | None = None

    def made_so(self, frame: Frame, span: Span, test: Test, *, first: bool = False) -> Frame | None:
        """Return the step since which the metal of a range, as `frame` finds it, passes a test.

        The last such step, or the `first`. None where the bar came so, or another part brought it along.
        """
        if test not in self._makers:
            self._makers[test] = tuple(self._that_made_so(test))
        return _worked_before(self._makers[test], frame, span, first=first)

    def maker_of_hole(self, frame: Frame, branch: str, hole: Feature) -> Frame | None:
        """Return the step that made a hole that `frame` finds on a branch, or None."""
        if self._holes is None:
            self._holes = tuple(
                (one, metal_of(one.after, _span_of(name, made)))
                for one in done(self.part)
                for name, made in holes_made(one)
            )
        return _worked_before(self._holes, frame, _span_of(branch, hole))

    def _that_made_so(self, test: Test) -> Iterator[tuple[Frame, Metal]]:
        for frame in done(self.part):
            for metal in frame.left:
                branch = metal.span.branch
                same = [one for one in frame.found if one.span.branch == branch] or frame.found
                if test(metal.run) and not any(test(one.run) for one in same):
                    yield frame, metal


def _worked_before(
    makers: tuple[tuple[Frame, Metal], ...], frame: Frame, span: Span, *, first: bool = False
) -> Frame | None:
    """Return the last or first of some steps before this one that worked the metal of a range."""
    earlier = [one for one in makers if one[0].number < frame.number]
    metal = metal_of(frame.before, span) if earlier else None
    for maker, made in earlier if first else reversed(earlier):
        if metal and same_metal(maker.after, made, frame.before, metal):
            return maker
    return None


def _span_of(branch: str, hole: Feature) -> Span:
    return Span(branch, max(hole.at - hole.length / 2, 0.0), hole.at + hole.length / 2)


# -- how much of it there is -------------------------------------------------------------------------


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
