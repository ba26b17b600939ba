"""A piece as solids: one for each branch, and one for each fitting that is metal of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calculators.generators import Weights
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import Pose, PosedBranch, pose

from .contours import Array
from .fittings import fittings_of
from .mesh import Faces, Mesh, assembled, skinned
from .openings import cutters_of
from .swelling import changes_of
from .walk import TURN, Run, runs_of, turning_of

MOST_FACES = 24_000  # of a piece, which make a file of about a megabyte
_MOST_RINGS = 1_000  # that have more faces than that, of nearly any section
_WIDEST = TURN * 12  # the most a long spring may turn from ring to ring, to have no more faces than that
_DISH_PARTS = 36  # rings across a dish, and corners across its face


@dataclass(frozen=True)
class Body:
    """A closed solid with a name: `points` (n, 3) in mm, `faces` (m, 3) outwards, `hot` says which glow."""

    name: str
    points: Array
    faces: Faces
    hot: NDArray[np.bool_]

    @property
    def volume(self) -> float:
        """The volume inside [mm³]."""
        return Mesh(self.points, self.faces).volume


def bodies_of(piece: Piece, hot: Sequence[Span] = ()) -> tuple[Body, ...]:
    """Return the solids of a piece, in the order of its branches, in the piece's own axes [mm].

    X runs along the root branch from its start, Y across its width and Z through its thickness. Branches that
    overlap stay solids of their own, so that each has the volume the ledger says.
    """
    there = pose(piece)
    turn = TURN
    turning = sum(turning_of(one) for one in there.branches)
    while turning / turn > _MOST_RINGS and turn < _WIDEST:
        turn *= 2
    made = _made(piece, there, hot, turn)
    while sum(len(one.faces) for one in made) > MOST_FACES and turn < _WIDEST:
        turn *= 2
        made = _made(piece, there, hot, turn)
    return made


def _made(piece: Piece, there: Pose, hot: Sequence[Span], turn: float) -> tuple[Body, ...]:
    made = []
    for posed in there.branches:
        spans = [one for one in hot if one.branch == posed.branch.name]
        mesh = branch_mesh(posed, [end for one in spans for end in (one.low, one.high)], turn)
        if mesh is not None:
            ring = posed.branch.length if piece.is_closed(posed.branch.name) else 0.0
            made.append(_body(posed.branch.name, mesh, spans, ring))
        for name, fitting in fittings_of(piece, there, posed):
            made.append(_body(f"{posed.branch.name}: {name}" if name else posed.branch.name, fitting, spans))
    return tuple(made)


def branch_mesh(posed: PosedBranch, ends: Sequence[float] = (), turn: float = TURN) -> Mesh | None:
    """Return the solid of a branch without its fittings, or None where it has no metal.

    Its faces do not lie across the `ends` [mm] of what is hot.
    """
    changes = list(changes_of(posed))
    dishes = [one for one in posed.branch.features if one.kind == "dish" and one.depth > 0]
    places = [*ends, *(at for one in changes for at in one.places)]
    for dish in dishes:
        places += _across(dish)

    def reshaped(at: float, section: Weights) -> Weights:
        for change in changes:
            section = change.on(at, section)
        return section

    parts = _DISH_PARTS if dishes else 1
    baskets = [
        (one.at - one.length / 2, one.at + one.length / 2)
        for one in posed.branch.features
        if one.kind == "basket"
    ]
    runs = runs_of(
        posed,
        extra=places,
        reshape=reshaped if changes else None,
        parts=parts,
        turn=turn,
        without=baskets,
    )
    if not runs:
        return None
    meshes = [skinned(_sunk(posed, dishes, one).outer, one.inner, twisted=one.twisted) for one in runs]
    return assembled(meshes, list(cutters_of(posed)))


def _across(dish: Feature) -> list[float]:
    low = dish.at - dish.length / 2
    return [low + dish.length * step / _DISH_PARTS for step in range(_DISH_PARTS + 1)]


def _sunk(posed: PosedBranch, dishes: Sequence[Feature], run: Run) -> Run:
    """Return a run with its dishes sunk: every point moved straight up or down, which keeps the volume."""
    outer = run.outer.copy()
    for dish in dishes:
        axes = posed.axes_at(dish.at)
        left, up = np.array(axes.left), np.array(axes.up)
        across = (outer[:, :, :3] - np.array(axes.origin)) @ left
        off = np.hypot(outer[:, :, 3] - dish.at, across)
        half, depth = dish.length / 2, dish.depth
        radius = (half * half + depth * depth) / (2 * depth)
        fall = np.sqrt(np.maximum(radius**2 - np.minimum(off, half) ** 2, 0.0)) - (radius - depth)
        sense = 1 if dish.side == "bottom" else -1
        outer[:, :, :3] += sense * fall[:, :, None] * up
    return Run(outer, run.inner, run.twisted)


def _body(name: str, mesh: Mesh, spans: Sequence[Span], ring: float = 0.0) -> Body:
    """Return a mesh as a body; `ring` is the length of a branch that is closed, and 0 of any other [mm]."""
    places = mesh.points[mesh.faces, 3]
    middle = places.mean(axis=1)
    if ring:  # where its end is its start, that corner lies at both
        middle = np.where(np.ptp(places, axis=1) > ring / 2, places.max(axis=1), middle)
    hot = np.zeros(len(mesh.faces), dtype=bool)
    for one in spans:
        hot |= (middle >= one.low - 1e-6) & (middle <= one.high + 1e-6)
    return Body(name, mesh.points[:, :3], mesh.faces, hot)
