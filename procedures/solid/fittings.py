"""What is put on a branch as metal of its own: heads, rivets, fillets, weld patches, collars, wraps, rods.

Each is made to hold just the metal that the ledger says it holds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import numpy as np

from calculators.roots import rising_root
from calculators.sections import Section
from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.pose import Pose, PosedBranch

from .contours import Array
from .held import bundle_of, spots_of
from .mesh import Mesh, placed_at, revolved, skinned
from .walk import contours_for, in_space
from .wires import basket_rods, moved_to, widened_round, wrapped

_NEAR = 0.1  # mm: a joint so near to a feature is its own
_ROUND = 32  # corners of what is turned
_DOME = 10  # rings of a dome
_THIN = 0.02  # mm: how thin a fillet runs out
_SQUAREST = 40.0  # of a dome, as a power: nearly a cylinder


def fittings_of(piece: Piece, pose: Pose, posed: PosedBranch) -> Iterator[tuple[str, Mesh]]:
    """Yield the name and the solid of each fitting on a branch."""
    made = {"head": _head, "fillet": _fillet, "patch": _patch}
    for one in posed.branch.features:
        if one.kind == "basket":
            rods = basket_rods(posed, one)
            if rods is not None:
                yield one.name, rods
        if one.volume <= 0 or one.is_hole:
            continue
        axes = posed.axes_at(one.at)
        joint = _joint_of(piece, posed.branch.name, one)
        if one.kind in made:
            yield one.name, made[one.kind](posed, one, axes)
        elif one.kind == "rivet":
            yield one.name, _rivet(pose, posed, one, joint)
        elif one.kind == "collar":
            yield one.name, _collar(pose, posed, one, joint)
        elif one.kind == "wrap":
            yield one.name, wrapped(pose, posed, one, joint)


def _joint_of(piece: Piece, branch: str, one: Feature) -> Joint | None:
    for joint in piece.joints:
        here = any(place.branch == branch and abs(place.at - one.at) < _NEAR for place in joint.places)
        if here and joint.kind == one.kind:
            return joint
    return None


# -- turned --------------------------------------------------------------------------------------------


def _head(posed: PosedBranch, one: Feature, axes: Axes) -> Mesh:
    """Return the dome of a head on the end of a branch."""
    outward = -1 if one.at <= posed.branch.length / 2 else 1
    high, half = one.depth or one.length, one.width / 2
    profile = _dome(half, high, one.volume)
    return _turned(axes, [(outward * along, radius) for along, radius in profile], one)


def _rivet(pose: Pose, posed: PosedBranch, one: Feature, joint: Joint | None) -> Mesh:
    """Return a rivet: a shank through all that it holds, and a head on each side."""
    hole = next(
        (hole for hole in posed.branch.features if hole.is_hole and abs(hole.at - one.at) < hole.length / 2),
        None,
    )
    axes = posed.axes_at(one.at)
    if hole is not None and hole.face == "edge":
        axes = Axes(axes.origin, axes.left, axes.up, axes.ahead)
    else:
        axes = Axes(axes.origin, axes.up, axes.ahead, axes.left)
    spots = spots_of(pose, posed, one, joint) - np.array(axes.origin)
    reach = spots @ np.array(axes.ahead)
    low, high = float(reach.min()), float(reach.max())
    shank = 0.6 * one.width / 2 if hole is None else (min(hole.width, hole.length) - _slack(joint)) / 2
    heads = one.volume - math.pi * shank * shank * (high - low)
    dome = _dome(one.width / 2, one.depth, max(heads, 0.1 * one.volume) / 2)
    first = [(low - along, radius) for along, radius in reversed(dome)]
    last = [(high + along, radius) for along, radius in dome]
    return _turned(axes, [*first, (low, shank), (high, shank), *last], one)


def _slack(joint: Joint | None) -> float:
    return max(joint.clearance or 0.0, 0.0) if joint else 0.0


def _dome(half: float, high: float, volume: float) -> list[tuple[float, float]]:
    """Return (height, radius) of a dome of a size that holds a volume: it is fuller or flatter for it."""

    def fullness(power: float) -> float:
        steps = 400
        return (
            sum(float((1 - ((step + 0.5) / steps) ** power) ** (2 / power)) for step in range(steps)) / steps
        )

    share = volume / (math.pi * half * half * high)
    least, most = fullness(0.8), fullness(_SQUAREST)
    power = 0.8 if share <= least else _SQUAREST
    if least < share < most:
        power = rising_root(fullness, share, 0.8, _SQUAREST)
    turns = [math.pi / 2 * step / _DOME for step in range(_DOME + 1)]
    return [
        (high * math.sin(turn) ** (2 / power), half * max(math.cos(turn), 0.0) ** (2 / power))
        for turn in turns
    ]


def _turned(axes: Axes, profile: list[tuple[float, float]], one: Feature) -> Mesh:
    """Return a solid of revolution about a place's own direction, its radius fitted to its volume."""
    rings = revolved(profile, _ROUND)
    rings[:, :, 1:] *= math.sqrt(one.volume / skinned(placed_at(rings, one.at)).volume)
    return skinned(placed_at(moved_to(axes, rings), one.at))


# -- round or on the bar -------------------------------------------------------------------------------


def _fillet(posed: PosedBranch, one: Feature, axes: Axes) -> Mesh:
    """Return the metal round the end of a jumped bar: it stands out there as far as it reaches back."""
    section = posed.branch.section_at(one.at)
    girth = section.perimeter

    def metal(size: float) -> float:
        return girth * size * size / 2 + math.pi * size**3 / 3

    size = _solved(metal, one.volume)
    back = size if one.at <= posed.branch.length / 2 else -size
    return _fitted(section, [(back, _THIN), (0.0, size)], axes, one)


def _collar(pose: Pose, posed: PosedBranch, one: Feature, joint: Joint | None) -> Mesh:
    """Return the band of a collar round all the bars that it holds."""
    section, axes = bundle_of(pose, posed, one, joint)
    each = one.volume / one.length
    thick = _solved(lambda size: section.perimeter * size + math.pi * size * size, each)
    half = one.length / 2
    return _fitted(section, [(-half, thick), (half, thick)], axes, one)


def _fitted(section: Section, layers: list[tuple[float, float]], axes: Axes, one: Feature) -> Mesh:
    """Return a hollow solid round a section, as thick as said so far along, fitted to its volume."""
    outside = [widened_round(section, thick) for _, thick in layers]
    contours = contours_for([section.g, *outside])
    within = contours.of([section.g] * len(layers))
    beyond = contours.of(outside)
    places = [axes.moved(along) for along, _ in layers]
    times = 1.0
    mesh = _hollow(places, within, beyond, times, one)
    for _ in range(3):  # the polygon of a round has a little less round it than the round
        times *= one.volume / mesh.volume
        mesh = _hollow(places, within, beyond, times, one)
    return mesh


def _hollow(places: list[Axes], within: Array, beyond: Array, times: float, one: Feature) -> Mesh:
    outer = within + (beyond - within) * times
    rings = [
        np.stack([in_space(axes, flat) for axes, flat in zip(places, flats, strict=True)])
        for flats in (outer, within)
    ]
    return skinned(placed_at(rings[0], one.at), placed_at(rings[1], one.at))


def _patch(posed: PosedBranch, one: Feature, axes: Axes) -> Mesh:
    """Return the metal of a crossing that stands over the face of the bar under it, as a block."""
    section = posed.branch.section_at(one.at)
    high = one.volume / (one.length * one.width)
    middle = (section.thickness + high) / 2 * (-1 if one.side == "bottom" else 1)
    block = Section.flat(one.width, high)
    flat = contours_for([block.g]).of([block.g])[0]
    rings = np.stack(
        [in_space(axes.moved(along, 0.0, middle), flat) for along in (-one.length / 2, one.length / 2)]
    )
    return skinned(placed_at(rings, one.at))


def _solved(metal: Callable[[float], float], wanted: float) -> float:
    high = 1.0
    while metal(high) < wanted:
        high *= 2
    return rising_root(metal, wanted, 0.0, high)
