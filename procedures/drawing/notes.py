"""What one drawing has to say: sections, marks, holes, bends and lengths, gathered before any is placed.

The drawing and its text alternative are both made from this, so they cannot differ.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

from procedures.engine.pieces.branch import Feature
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Point, Span
from procedures.engine.replay import Frame

from .curve_notes import CurveNote, curve_notes
from .profile import SectionNote, section_notes
from .skin import SkinNote, skin_notes


@dataclass(frozen=True)
class MarkNote:
    """A mark on a branch; `new` when this step put it there."""

    branch: str
    at: float
    name: str
    new: bool


@dataclass(frozen=True)
class HoleNote:
    """A hole or other feature, whether this step made or changed it, and where else it holds (branch, at)."""

    branch: str
    feature: Feature
    new: bool
    held: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Notes:
    """All that is to be said of one piece."""

    piece: Piece
    worked: tuple[Span, ...] = ()
    lengths: tuple[Span, ...] = ()
    marks: tuple[MarkNote, ...] = ()
    holes: tuple[HoleNote, ...] = ()
    curves: tuple[CurveNote, ...] = ()
    angles: tuple[tuple[str, float], ...] = ()
    points: tuple[tuple[Point, str], ...] = ()
    cuts: tuple[Point, ...] = ()
    skins: tuple[SkinNote, ...] = ()
    before: Piece | None = field(default=None, compare=False)

    @cached_property
    def sections(self) -> tuple[SectionNote, ...]:
        """The sections worth naming: looked for when they are, which the scale of a part does not ask for."""
        return tuple(note for branch in self.piece.branches for note in section_notes(branch, self.worked))

    def in_a_hole(self, branch: str, at: float) -> bool:
        """Whether a place lies within a hole, where nothing can be punched."""
        return any(
            one.branch == branch
            and one.feature.is_hole
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
        curves=tuple(curve_notes(piece, worked, sketch.radii, frame.before)),
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
        marks=tuple(
            MarkNote(branch.name, one.at, one.name, (branch.name, one.name) in put)
            for branch in piece.branches
            for one in branch.marks
            if not any(hole.name == one.name and abs(hole.at - one.at) < 0.1 for hole in branch.features)
        ),
        holes=tuple(
            HoleNote(
                branch.name,
                one,
                before is not None and _known(branch.name, one) not in old,
                _held(piece, branch.name, one),
            )
            for branch in piece.branches
            for one in branch.features
        ),
        skins=tuple(skin_notes(piece, before)),
        before=before,
    )


def _known(branch: str, one: Feature) -> tuple[object, ...]:
    return branch, one.name, one.shape, one.length, one.width


def _held(piece: Piece, branch: str, one: Feature) -> tuple[tuple[str, float], ...]:
    """Return the places on other branches that a collar or a wrap holds to its own."""
    for joint in piece.joints:
        here = any(place.branch == branch and abs(place.at - one.at) < 0.1 for place in joint.places)
        if joint.kind == one.kind and here:
            return tuple((place.branch, place.at) for place in joint.places if place.branch != branch)
    return ()


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
