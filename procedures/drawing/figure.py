"""A piece made ready to be drawn: what is to be said of it, where it lies, and how each view sees it."""

from __future__ import annotations

from functools import cached_property

from procedures.engine.pieces.pose import Pose, pose

from .coarse import APART, coarse
from .datum import held_at
from .notes import Notes
from .reach import Reach, reach_of
from .room import Box
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
        self._wholes: dict[float, Pose] = {}  # by how finely it was posed

    @cached_property
    def reach(self) -> Reach:
        """What it takes up."""
        return reach_of(self._posed(_ROUGHLY), VIEWS, self.notes.worked + self.notes.lengths)

    @cached_property
    def pose(self) -> Pose:
        """Where it lies, without the steps that would not be seen at its scale."""
        return self._posed(self.finest, max(APART, 2 * self.finest))

    def scene(self, view: View) -> Scene:
        """Return how a view sees it."""
        if view.name not in self._scenes:
            self._scenes[view.name] = scene(self.pose, view, self.notes.worked, self._closed, self.finest)
        return self._scenes[view.name]

    def near(self, view: View, window: Box, finest: float) -> tuple[Pose, Scene]:
        """Return (where it lies, how a view sees it) within a window [mm] of the view, to be drawn larger."""
        whole = self._wholes.get(finest) or self._wholes.setdefault(finest, self._posed(finest))
        return whole, scene(whole, view, self.notes.worked, self._closed, finest, window)

    def forget(self) -> None:
        """Let go of what takes room; made again should it be asked for."""
        self._scenes.clear()
        self._wholes.clear()
        self.__dict__.pop("pose", None)

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

    def _posed(self, chord: float, apart: float = APART) -> Pose:
        piece = coarse(self.notes.piece, self.notes.worked + self.notes.lengths, apart)
        return pose(piece, held=self.held, at_x=self.datum, chord=chord, turned=self.turned)
