"""Round wire and rods that follow a line of their own: wraps, and the rods of a basket."""

from __future__ import annotations

import math

import numpy as np

from calculators.formulas.basket_length import closed_radius, rod_length
from calculators.generators import DISC, Weights
from calculators.sections import Section
from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.pose import Pose, PosedBranch
from procedures.engine.pieces.segment import TOUCH

from .contours import Array
from .held import bundle_of
from .mesh import Mesh, side_by_side, skinned
from .walk import contours_for, in_space

_WIRE = 12  # corners of a wire
_RINGS = 800  # along the wire of a wrap, at most
_A_TURN = 48  # rings of a rod in a turn of a basket
_FEWEST, _MOST = 2, 30  # rods of a basket


def widened_round(section: Section, by: float) -> Weights:
    """Return the section that lies so far outside another all round [mm]."""
    w = list(section.g)
    w[DISC] += by
    return w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7]


def moved_to(axes: Axes, points: Array) -> Array:
    """Return points (along, left, up) of a place in space."""
    ahead = points[..., :1] * np.array(axes.ahead)
    moved: Array = in_space(axes, points[..., 1:]) + ahead
    return moved


def wrapped(pose: Pose, posed: PosedBranch, one: Feature, joint: Joint | None) -> Mesh:
    """Return the wire of a wrap, its turns evenly apart, and as thick as its tails make it."""
    section, axes = bundle_of(pose, posed, one, joint)
    wire = one.depth or 2.0
    round_it = widened_round(section, wire / 2)
    turns = max(round(one.turns or one.length / wire), 1)
    path = _evenly(contours_for([round_it]).of([round_it])[0], wire, max(min(48, _RINGS // turns), 8))
    steps = turns * len(path)
    pitch = one.length / turns
    share = np.arange(steps + 1) / steps
    long = (one.length - pitch) * share - (one.length - pitch) / 2
    spine = np.column_stack([long, path[np.arange(steps + 1) % len(path)]])
    outward = spine * np.array([0.0, 1.0, 1.0])
    places = np.full(steps + 1, one.at)
    return _fitted([(moved_to(axes, spine), moved_to(axes, spine + outward), places)], one.volume)


def basket_rods(posed: PosedBranch, one: Feature) -> Mesh | None:
    """Return the rods of a basket, or None where the ledger leaves them no metal.

    The branch has the spindle that they lie in: how many there are, and how thick, is what gives the metal of
    the ledger best. Rods of any section are shown round.
    """
    low, high = one.at - one.length / 2, one.at + one.length / 2
    spindle = posed.branch.segments_between(low, high)
    metal = sum(segment.volume for segment in spindle) + one.volume
    if metal <= 0 or not spindle:
        return None
    wide = spindle[0].start.width / 2
    count = min(range(_FEWEST, _MOST + 1), key=lambda rods: abs(_metal_of(rods, wide, one) - metal))
    closed, thick = _closed(count, wide)
    rings = max(math.ceil(_A_TURN * one.turns), _A_TURN // 2) + 1
    share = np.arange(rings) / (rings - 1)
    radius = closed + (one.width / 2 - thick / 2 - closed) * np.sin(np.pi * share)
    places = low + one.length * share
    axes = [posed.axes_at(min(max(at, low + TOUCH), high - TOUCH)) for at in places]
    lines = []
    for rod in range(count):
        way = np.array([math.cos(math.tau * rod / count), math.sin(math.tau * rod / count)])
        spine, outward = (
            np.stack([in_space(here, way * far) for here, far in zip(axes, radii, strict=True)])
            for radii in (radius, radius + thick)
        )
        lines.append((spine, outward, places))
    return _fitted(lines, metal)


def _closed(rods: int, wide: float) -> tuple[float, float]:
    """Return how far out rods lie that touch in a ring of this outer radius, and how thick they are [mm]."""
    thick = wide / (closed_radius(1.0, rods) + 0.5)
    return closed_radius(thick, rods), thick


def _metal_of(rods: int, wide: float, one: Feature) -> float:
    closed, thick = _closed(rods, wide)
    long = rod_length(one.length, one.turns, one.width / 2 - thick / 2, closed)
    return rods * math.pi / 4 * thick * thick * long


def _fitted(lines: list[tuple[Array, Array, Array]], volume: float) -> Mesh:
    """Return pipes along lines, all as thick as makes up a volume.

    Each line is its points (n, 3), points outside them (n, 3), and their places along the branch (n).
    """
    length = sum(float(np.linalg.norm(np.diff(one[0], axis=0), axis=1).sum()) for one in lines)
    radius = math.sqrt(volume / (math.pi * length))
    mesh = _pipes(lines, radius)
    for _ in range(3):  # a pipe with corners holds a little less than a round one
        radius *= math.sqrt(volume / mesh.volume)
        mesh = _pipes(lines, radius)
    return mesh


def _pipes(lines: list[tuple[Array, Array, Array]], radius: float) -> Mesh:
    return side_by_side([skinned(_piped(*one, radius)) for one in lines])


def _piped(spine: Array, outside: Array, places: Array, radius: float) -> Array:
    """Return rings round a line: each stands across it, its first corner towards the outside."""
    ahead = np.gradient(spine, axis=0)
    ahead /= np.linalg.norm(ahead, axis=1)[:, None]
    outward = outside - spine
    outward -= np.einsum("ij,ij->i", outward, ahead)[:, None] * ahead
    outward /= np.linalg.norm(outward, axis=1)[:, None]
    across = np.cross(ahead, outward)
    turns = 2 * np.pi * np.arange(_WIRE) / _WIRE
    rings = spine[:, None, :] + radius * (
        np.cos(turns)[None, :, None] * outward[:, None, :] + np.sin(turns)[None, :, None] * across[:, None, :]
    )
    beside = np.broadcast_to(places[:, None, None], (*rings.shape[:2], 1))
    return np.concatenate([rings, beside], axis=2)


def _evenly(path: Array, wire: float, most: int) -> Array:
    """Return a closed line with corners as far apart as a wire is thick, `most` in all."""
    closed = np.concatenate([path, path[:1]])
    reach = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(closed, axis=0), axis=1))])
    count = min(max(math.ceil(reach[-1] / max(wire, 1.0)), 16), most)
    wanted = reach[-1] * np.arange(count) / count
    return np.column_stack([np.interp(wanted, reach, closed[:, axis]) for axis in (0, 1)])
