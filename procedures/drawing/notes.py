"""What one drawing has to say: sections, marks, holes, bends and lengths, gathered before any is placed.

The drawing and its text alternative are both made from this, so they cannot differ.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass, field, replace

from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.engine.branch import Branch, Feature
from procedures.engine.path import Arc, Corner, Spiral
from procedures.engine.piece import Piece
from procedures.engine.place import Point, Span
from procedures.engine.replay import Frame
from procedures.engine.segment import Segment

from .lettering import bare, section_words, spaced
from .profile import SectionNote, section_notes


@dataclass(frozen=True)
class MarkNote:
    """A mark on a branch; `new` when this step put it there."""

    branch: str
    at: float
    name: str
    new: bool


@dataclass(frozen=True)
class HoleNote:
    """A hole, and whether this step made or changed it."""

    branch: str
    feature: Feature
    new: bool


@dataclass(frozen=True)
class CurveNote:
    """A bend, corner, scroll or twist that this step made, with the inside radius where there is one."""

    span: Span
    kind: str
    angle: float = 0.0
    inside: float | None = None
    spiral: Spiral | None = None
    turns: float = 0.0


@dataclass(frozen=True)
class Notes:
    """All that is to be said of one piece."""

    piece: Piece
    worked: tuple[Span, ...] = ()
    lengths: tuple[Span, ...] = ()
    sections: tuple[SectionNote, ...] = ()
    marks: tuple[MarkNote, ...] = ()
    holes: tuple[HoleNote, ...] = ()
    curves: tuple[CurveNote, ...] = ()
    angles: tuple[tuple[str, float], ...] = ()
    points: tuple[tuple[Point, str], ...] = ()
    cuts: tuple[Point, ...] = ()
    before: Piece | None = field(default=None, compare=False)

    def in_a_hole(self, branch: str, at: float) -> bool:
        """Whether a place lies within a hole, where nothing can be punched."""
        return any(
            one.branch == branch
            and one.feature.width > 0
            and abs(one.feature.at - at) < one.feature.length / 2
            for one in self.holes
        )


def notes_of(frame: Frame) -> Notes:
    """Return what the drawing of a step has to say."""
    piece, sketch = frame.after, frame.sketch
    if frame.status != "done":
        return notes_of_piece(piece, _on(piece, frame.worked))
    worked = _on(piece, tuple(sketch.highlights) or piece.worked)
    points = [(point, label) for point, label in sketch.points if piece.has_branch(point.branch)]
    made = notes_of_piece(
        piece, worked, before=frame.before, put={(one.branch, label) for one, label in points}
    )
    named = {(one.branch, one.name) for one in made.marks} | {
        (one.branch, one.feature.name) for one in made.holes
    }
    return replace(
        made,
        lengths=_distinct(_on(piece, sketch.lengths)),
        curves=tuple(_curves(piece, worked, sketch.radii, frame.before)),
        angles=tuple((one, degrees) for one, degrees in sketch.angles if piece.has_branch(one)),
        points=tuple((point, label) for point, label in points if (point.branch, label) not in named),
        cuts=tuple(one for one in sketch.cuts if piece.has_branch(one.branch)),
    )


def notes_of_piece(
    piece: Piece,
    worked: tuple[Span, ...] = (),
    before: Piece | None = None,
    put: Container[tuple[str, str]] = (),
) -> Notes:
    """Return what there is to say of a piece by itself: sections, marks and holes.

    `before` is the piece that a step found, `put` the (branch, mark) that it marked out.
    """
    old = (
        {_known(branch.name, one) for branch in before.branches for one in branch.features}
        if before
        else set()
    )
    return Notes(
        piece,
        worked=worked,
        sections=tuple(note for branch in piece.branches for note in section_notes(branch, worked)),
        marks=tuple(
            MarkNote(branch.name, one.at, one.name, (branch.name, one.name) in put)
            for branch in piece.branches
            for one in branch.marks
            if not any(hole.name == one.name and abs(hole.at - one.at) < 0.1 for hole in branch.features)
        ),
        holes=tuple(
            HoleNote(branch.name, one, before is not None and _known(branch.name, one) not in old)
            for branch in piece.branches
            for one in branch.features
        ),
        before=before,
    )


def _known(branch: str, one: Feature) -> tuple[str, str, float, float]:
    return branch, one.name, one.length, one.width


def _on(piece: Piece, spans: Iterable[Span]) -> tuple[Span, ...]:
    """Return the spans that lie on the piece, cut to its branches."""
    found = []
    for one in spans:
        if piece.has_branch(one.branch):
            length = piece.branch(one.branch).length
            low, high = max(one.low, 0.0), min(one.high, length)
            if high - low > 1e-6:
                found.append(Span(one.branch, low, high))
    return tuple(found)


def _distinct(spans: Iterable[Span]) -> tuple[Span, ...]:
    return tuple(dict.fromkeys(spans))


# -- curves ------------------------------------------------------------------------------------------


def _curves(
    piece: Piece, worked: Iterable[Span], radii: Iterable[tuple[Span, float]], before: Piece
) -> Iterator[CurveNote]:
    """Yield the bends, corners, scrolls and twists within what was worked."""
    inside = {(one.branch, round(one.low, 6), round(one.high, 6)): radius for one, radius in radii}
    spans = _distinct([one for one, _ in radii] + list(worked))
    told: set[tuple[str, float]] = set()
    for span in spans:
        branch = piece.branch(span.branch)
        for low, high, run in _curved_runs(branch, span):
            if (span.branch, round(low, 3)) in told or _was_there(before, branch, low, high, run[0]):
                continue
            told.add((span.branch, round(low, 3)))
            radius = inside.get((span.branch, round(span.low, 6), round(span.high, 6)))
            yield _curve(Span(span.branch, low, high), run, radius)


def _curved_runs(branch: Branch, span: Span) -> Iterator[tuple[float, float, list[Segment]]]:
    """Yield (from, to, segments) of the curves and twists in a span; arcs that go the same way join up."""
    at = span.low
    run: list[Segment] = []
    begun = at
    for one in branch.segments_between(span.low, span.high):
        if run and not _goes_on(run[-1], one):
            yield begun, at, run
            run = []
        if not one.is_straight:
            if not run:
                begun = at
            run.append(one)
        at += one.length
    if run:
        yield begun, at, run


def _goes_on(first: Segment, second: Segment) -> bool:
    one, two = first.path, second.path
    if isinstance(one, Arc) and isinstance(two, Arc):
        return (
            one.plane == two.plane
            and one.turn == two.turn
            and abs(one.radius - two.radius) < 0.5 * one.radius
        )
    if isinstance(one, Spiral) and isinstance(two, Spiral):
        return one.plane == two.plane and one.turn == two.turn
    return one.kind == two.kind == "straight" and first.twist * second.twist > 0


def _was_there(before: Piece, branch: Branch, low: float, high: float, first: Segment) -> bool:
    """Whether the same curve was already on the piece before the step, only moved along."""
    if not before.has_branch(branch.name):
        return False
    return any(
        one.path == first.path and one.twist == first.twist and abs(one.length - first.length) < 1e-6
        for one in before.branch(branch.name).segments
    )


def _curve(span: Span, run: list[Segment], inside: float | None) -> CurveNote:
    path = run[0].path
    if isinstance(path, Arc):
        angle = sum(one.path.angle for one in run if isinstance(one.path, Arc))
        if inside is None:
            middle = run[len(run) // 2]
            depth = middle.start.thickness if path.plane == "easy" else middle.start.width
            inside = max(path.radius - depth / 2, 0.0)
        return CurveNote(span, "bend", angle=angle, inside=inside)
    if isinstance(path, Corner):
        return CurveNote(span, "corner", angle=path.angle, inside=inside)
    if isinstance(path, Spiral):
        last = run[-1].path
        assert isinstance(last, Spiral)
        turns = sum(one.path.turns for one in run if isinstance(one.path, Spiral))
        return CurveNote(span, "scroll", spiral=Spiral(path.first, last.last, turns, path.law))
    return CurveNote(span, "twist", turns=sum(one.twist for one in run))


# -- words -------------------------------------------------------------------------------------------


def curve_words(note: CurveNote, units: UnitSystem) -> str:
    """Return what is written at a bend, a scroll or a twist."""
    if note.kind == "bend" and not note.inside and note.angle > 170:
        return "folded close"
    if note.kind == "corner" and not note.inside:
        return f"{spaced(units.angle(note.angle))} sharp"
    if note.kind in ("bend", "corner"):
        return f"R{bare(note.inside or 0.0, units)}  {spaced(units.angle(note.angle))}"
    if note.spiral is not None:
        small, large = sorted((note.spiral.first, note.spiral.last))
        return f"R{bare(small, units)}–R{bare(large, units)}  {_turns(note.spiral.turns, units)}"
    hand = "right" if note.turns > 0 else "left"
    return f"{_turns(abs(note.turns), units)} {hand}-hand"


def _turns(count: float, units: UnitSystem) -> str:
    quarters = round(count * 4)
    if quarters and abs(count * 4 - quarters) < 1e-6:
        whole, rest = divmod(quarters, 4)
        said = f"{whole or ''}{('', '¼', '½', '¾')[rest]}"
    else:
        said = units.number(round(count, 2))
    return f"{said} turn{'' if count <= 1 else 's'}"


def hole_words(feature: Feature, units: UnitSystem) -> str:
    """Return what is written at a hole."""
    if feature.kind == "slit":
        return f"slit {bare(feature.length, units)}"
    if feature.shape == "round":
        return section_words(Section.round(feature.width), units)
    return section_words(Section.flat(feature.length, feature.width), units)
