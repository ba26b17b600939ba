"""A piece made ready to be drawn: what is to be said of it, where it lies, and how each view sees it."""

from __future__ import annotations

from functools import cached_property

from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.pose import Pose, pose

from .coarse import coarse
from .datum import held_at
from .notes import Notes
from .reach import Reach, reach_of
from .scene import scene
from .strokes import Scene
from .views import VIEWS, View

_ROUGHLY = 0.25  # mm: close enough to see how much room a piece takes


class Figure:
    """One piece of a part, held at the part's datum. What takes time is made when first asked for."""

    def __init__(self, notes: Notes, bar: str, datum: float, *, turned: bool = False) -> None:
        self.notes = notes
        self.datum = datum
        self.turned = turned
        self.held = held_at(notes.piece, bar, datum)
        self.finest = _ROUGHLY  # mm that drawn curves may lie from the true ones; set once the scale is known
        self._scenes: dict[str, Scene] = {}

    @cached_property
    def reach(self) -> Reach:
        """What it takes up."""
        return reach_of(self._posed(_ROUGHLY), VIEWS, self.notes.worked + self.notes.lengths)

    @cached_property
    def pose(self) -> Pose:
        """Where it lies."""
        return self._posed(self.finest)

    def scene(self, view: View) -> Scene:
        """Return how a view sees it."""
        if view.name not in self._scenes:
            self._scenes[view.name] = scene(self.pose, view, self.notes.worked, self._closed, self.finest)
        return self._scenes[view.name]

    @cached_property
    def _closed(self) -> frozenset[str]:
        """The branches whose two ends are welded to each other."""
        piece = self.notes.piece
        found = set()
        for one in piece.branches:
            ends = {round(at, 3) for joint in piece.joints if joint.is_weld for at in joint.on(one.name)}
            if {0.0, round(one.length, 3)} <= ends:
                found.add(one.name)
        return frozenset(found)

    @cached_property
    def _piece(self) -> Piece:
        return coarse(self.notes.piece, self.notes.worked + self.notes.lengths)

    def _posed(self, chord: float) -> Pose:
        return pose(self._piece, held=self.held, at_x=self.datum, chord=chord, turned=self.turned)
