"""Closed triangle meshes of rings of points joined one to the next. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from manifold3d import Error, Manifold, Mesh64, OpType
from numpy.typing import NDArray

from .contours import Array

Faces = NDArray[np.int64]

_SAME = 1e-7  # mm: corners nearer to each other than this are one
_MEETS = 0.01  # mm: ends nearer to each other than this have met
_OVERLAP = 1e-4  # share of the volume by which runs that only touch may seem to overlap


@dataclass(frozen=True)
class Mesh:
    """A closed surface: `points` (n, 4) are x, y, z and the place along the branch [mm]; `faces` (m, 3)."""

    points: Array
    faces: Faces

    @property
    def volume(self) -> float:
        """The volume inside [mm³]."""
        if not len(self.faces):
            return 0.0
        corners = self.points[self.faces, :3] - self.points[0, :3]
        return float(np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))) / 6


def skinned(outer: Array, inner: Array | None = None, *, twisted: bool = False) -> Mesh:
    """Return the solid between the first and the last of rings of corners (rings, corners, 4).

    With `inner` it is hollow. The faces look outwards whichever way round the rings are.
    """
    points = outer.reshape(-1, 4)
    rings = len(outer)
    known = _numbered(outer)
    is_ring = rings > 3 and inner is None and np.abs(outer[0] - outer[-1])[:, :3].max() < _MEETS
    if is_ring:  # a ring that is welded shut has no ends
        known[-1] = known[0]
    faces = [_sides(known, twisted=twisted)]
    if inner is None and not is_ring:
        faces += [_lid(known[0])[:, ::-1], _lid(known[-1])]
    elif inner is not None:
        within = _numbered(inner) + len(points)
        points = np.concatenate([points, inner.reshape(-1, 4)])
        faces.append(_sides(within, twisted=twisted)[:, ::-1])
        for ring, flip in ((0, False), (rings - 1, True)):
            band = _sides(np.stack([within[ring], known[ring]]), twisted=False)
            faces.append(band if not flip else band[:, ::-1])
    return _tidy(points, np.concatenate(faces))


def revolved(profile: list[tuple[float, float]], count: int) -> Array:
    """Return the rings of a solid of revolution about X from (along, radius) pairs: (rings, corners, 3)."""
    turns = 2 * np.pi * np.arange(count) / count
    along, radius = np.array(profile).T
    shape = (len(profile), count)
    return np.stack(
        [
            np.broadcast_to(along[:, None], shape),
            radius[:, None] * np.cos(turns),
            radius[:, None] * np.sin(turns),
        ],
        axis=2,
    )


def placed_at(points: Array, at: float) -> Array:
    """Return points (..., 3) with their place along the branch beside them (..., 4)."""
    return np.concatenate([points, np.full((*points.shape[:-1], 1), at)], axis=-1)


def assembled(runs: list[Mesh], cutters: list[Mesh]) -> Mesh:
    """Return runs that touch each other as one solid, with the cutters taken out of it.

    Runs that overlap, as in a bend tighter than the bar is thick, stay as they are, side by side; so do all
    where one is no solid that can be cut.
    """
    if len(runs) == 1 and not cutters:
        return runs[0]
    solids = [_solid(one) for one in runs]
    if any(one.status() != Error.NoError for one in solids):
        return side_by_side(runs)
    whole = sum(one.volume() for one in solids)
    one = Manifold.batch_boolean(solids, OpType.Add)
    if abs(one.volume() - whole) <= _OVERLAP * abs(whole):
        solids = [one]
    if cutters:
        tools = [_solid(one) for one in cutters]
        solids = [Manifold.batch_boolean([one, *tools], OpType.Subtract) for one in solids]
    return side_by_side([_meshed(one) for one in solids])


def _solid(mesh: Mesh) -> Manifold:
    return Manifold(
        Mesh64(np.ascontiguousarray(mesh.points), np.ascontiguousarray(mesh.faces.astype(np.uint64)))
    )


def _meshed(solid: Manifold) -> Mesh:
    made = solid.to_mesh64()
    points = np.array(made.vert_properties, dtype=np.float64)
    faces = np.array(made.tri_verts, dtype=np.int64)
    # A corner at a cut has a place along the branch from each side: one of them is enough.
    target = np.arange(len(points))
    target[np.array(made.merge_from_vert, dtype=np.int64)] = np.array(made.merge_to_vert, dtype=np.int64)
    return _tidy(points, target[faces])


def side_by_side(runs: list[Mesh]) -> Mesh:
    """Return several solids as one mesh, each as it is."""
    points, faces, done = [], [], 0
    for one in runs:
        points.append(one.points)
        faces.append(one.faces + done)
        done += len(one.points)
    return Mesh(np.concatenate(points), np.concatenate(faces))


def _numbered(rings: Array) -> Faces:
    """Return a number for each corner, the same for those that lie in one place on a ring or the next."""
    count, size = rings.shape[:2]
    number = np.arange(count * size).reshape(count, size)
    spots = rings[:, :, :3]
    beside = np.linalg.norm(spots - np.roll(spots, 1, axis=1), axis=2) < _SAME
    before = np.zeros((count, size), dtype=bool)
    before[1:] = np.linalg.norm(spots[1:] - spots[:-1], axis=2) < _SAME
    parent = number.reshape(-1).copy()

    def root(one: int) -> int:
        while parent[one] != one:
            parent[one] = parent[parent[one]]
            one = int(parent[one])
        return one

    for ring, place in zip(*np.nonzero(beside), strict=True):
        _join(parent, root(number[ring, place]), root(number[ring, place - 1]))
    for ring, place in zip(*np.nonzero(before), strict=True):
        _join(parent, root(number[ring, place]), root(number[ring - 1, place]))
    if beside.any() or before.any():
        number = np.array([root(one) for one in range(count * size)]).reshape(count, size)
    return number


def _join(parent: Faces, one: int, other: int) -> None:
    low, high = min(one, other), max(one, other)
    parent[high] = low


def _sides(known: Faces, *, twisted: bool) -> Faces:
    """Return the triangles between rings of numbered corners.

    On a twisted bar one diagonal of a strip lies above the true surface and the other below it: they take
    turns, so that the volume comes out right.
    """
    a, d = known[:-1], known[1:]
    b, c = np.roll(a, -1, axis=1), np.roll(d, -1, axis=1)
    first = np.stack([np.stack([a, b, c], axis=2), np.stack([a, c, d], axis=2)], axis=2)
    if twisted:
        second = np.stack([np.stack([a, b, d], axis=2), np.stack([b, c, d], axis=2)], axis=2)
        odd = np.add.outer(np.arange(a.shape[0]), np.arange(a.shape[1])) % 2 == 1
        first = np.where(odd[:, :, None, None], second, first)
    return first.reshape(-1, 3)


def _lid(ring: Faces) -> Faces:
    """Return the triangles that close a ring, looking on along the rings."""
    distinct = [int(ring[0])]
    for one in ring[1:]:
        if one != distinct[-1]:
            distinct.append(int(one))
    if len(distinct) > 1 and distinct[-1] == distinct[0]:
        distinct.pop()
    corners = distinct
    if len(corners) < 3:
        return np.zeros((0, 3), dtype=np.int64)
    return np.array([(corners[0], one, two) for one, two in pairwise(corners[1:])])


def _tidy(points: Array, faces: Faces) -> Mesh:
    """Return a mesh without the triangles that have no area, and without the corners nothing uses."""
    a, b, c = faces.T
    faces = faces[(a != b) & (b != c) & (c != a)]
    used, inverse = np.unique(faces, return_inverse=True)
    mesh = Mesh(points[used], inverse.reshape(-1, 3))
    return mesh if mesh.volume >= 0 else Mesh(mesh.points, mesh.faces[:, ::-1])
