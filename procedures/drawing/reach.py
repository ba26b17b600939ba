"""What a posed piece takes up, and where along each axis it is anything but plain bar."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import Pose, PosedBranch, PosedSegment

from .views import View

Stretch = tuple[float, float]
_STAND = ("collar", "wrap", "head", "rivet", "fillet")


@dataclass(frozen=True)
class Reach:
    """What one pose takes up [mm].

    X from `low` to `high`; by view the heights of its metal and of its centre lines; and what of X, and by
    view of the heights, is busy.
    """

    low: float
    high: float
    heights: Mapping[str, Stretch]
    middles: Mapping[str, Stretch]
    busy: tuple[Stretch, ...]
    busy_heights: Mapping[str, tuple[Stretch, ...]] = field(default_factory=dict)


def reach_of(pose: Pose, views: Iterable[View], spans: Iterable[Span] = ()) -> Reach:
    """Return what a posed piece takes up."""
    views, spans = list(views), list(spans)
    along = _stretches(pose, [0, *(view.upward for view in views)])
    stretches = [*along[0].values(), *_standing(pose, 0)]
    heights: dict[str, list[float]] = {view.name: [] for view in views}
    middles: dict[str, list[float]] = {view.name: [] for view in views}
    for branch in pose.branches:
        for posed in branch.segments:
            for view in views:
                heights[view.name] += along[view.upward][id(posed)]
                middles[view.name] += [one.axes.origin[view.upward] for one in posed.stations]
    for view in views:
        heights[view.name] += [at for stretch in _standing(pose, view.upward) for at in stretch]
    return Reach(
        min((low for low, _ in stretches), default=0.0),
        max((high for _, high in stretches), default=0.0),
        _least_and_most(heights),
        _least_and_most(middles),
        tuple(_busy_along(pose, spans, 0, along[0])),
        {
            view.name: ((0.0, 0.0), *_busy_along(pose, spans, view.upward, along[view.upward]))
            for view in views
        },
    )


def _standing(pose: Pose, axis: int) -> list[Stretch]:
    """Return about how far along an axis reaches what stands on the bars or is round them."""
    found = []
    for branch in pose.branches:
        for one in branch.branch.features:
            if one.kind in _STAND:
                middle, far = branch.axes_at(one.at).origin[axis], max(one.length, one.width) / 2 + one.depth
                found.append((middle - far, middle + far))
    return found


def _least_and_most(spread: dict[str, list[float]]) -> dict[str, Stretch]:
    return {name: (min(found), max(found)) if found else (0.0, 0.0) for name, found in spread.items()}


def _busy_along(
    pose: Pose, spans: Iterable[Span], axis: int, along: Mapping[int, Stretch]
) -> Iterator[Stretch]:
    """Yield the stretches of an axis on which a piece is anything but plain bar along it."""
    for branch in pose.branches:
        yield from _busy(branch, axis, along)
    for span in spans:
        branch_of = pose.by_name.get(span.branch)
        if branch_of:
            for at in (span.low, span.high):
                yield (branch_of.axes_at(at).origin[axis],) * 2


def _stretches(pose: Pose, axes: Sequence[int]) -> dict[int, dict[int, Stretch]]:
    """Return by axis from where to where each segment reaches along it, by its identity."""
    found: dict[int, dict[int, Stretch]] = {axis: {} for axis in axes}
    for branch in pose.branches:
        for posed in branch.segments:
            sizes = [(one.axes, one.section.width / 2, one.section.thickness / 2) for one in posed.stations]
            for axis, stretches in found.items():
                stretches[id(posed)] = _stretch(sizes, axis)
    return found


def _stretch(sizes: Iterable[tuple[Axes, float, float]], axis: int) -> Stretch:
    low, high = math.inf, -math.inf
    for axes, wide, thick in sizes:
        half = abs(axes.left[axis]) * wide + abs(axes.up[axis]) * thick
        low, high = min(low, axes.origin[axis] - half), max(high, axes.origin[axis] + half)
    return low, high


def _busy(branch: PosedBranch, axis: int, along: Mapping[int, Stretch]) -> Iterator[Stretch]:
    for index, posed in enumerate(branch.segments):
        if not _is_plain(posed, axis):
            yield along[id(posed)]
            continue
        before = branch.segments[index - 1] if index else None
        if (
            before is None
            or before.segment.end != posed.segment.start
            or before.segment.shift != posed.segment.shift
        ):
            yield (posed.start.origin[axis],) * 2
    if branch.segments:
        yield (branch.end.origin[axis],) * 2
    for mark in branch.branch.marks:
        yield (branch.axes_at(mark.at).origin[axis],) * 2
    for one in branch.branch.features:
        middle = branch.axes_at(one.at).origin[axis]
        yield middle - one.length - one.bulge, middle + one.length + one.bulge
    yield (branch.start.origin[axis],) * 2


def _is_plain(posed: PosedSegment, axis: int) -> bool:
    segment = posed.segment
    return segment.is_straight and segment.is_even and abs(posed.start.ahead[axis]) > 1 - 1e-9
