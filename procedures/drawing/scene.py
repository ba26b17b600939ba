"""A whole piece in one view: what is seen of each segment, what is hidden, where branches run together."""

from __future__ import annotations

import itertools
import math
from collections.abc import Container, Iterable, Iterator

from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import Pose, PosedBranch, PosedSegment
from procedures.engine.pieces.segment import TOUCH

from .cage import is_caged
from .crowd import Crowd
from .facets import Facet, cap, end_cap, facet, joint
from .room import Box, around, meet
from .strokes import EPS, Cap, Scene
from .swells import swells_of
from .views import Spot, View, heading, left_of, reach

_MOST_ROOT = 3.0  # half widths that a branch at a slant reaches into what it stands on


def scene(
    pose: Pose,
    view: View,
    worked: Iterable[Span] = (),
    closed: Container[str] = frozenset(),
    fine: float = 0.0,
    window: Box | None = None,
) -> Scene:
    """Return a piece as it is seen in a view, of a `window` [mm] only the segments that come into it.

    Segments within the `worked` spans are marked so; `closed` are the branches whose two ends are one, `fine`
    how far lines may lie from the true ones [mm].
    """
    spans = list(worked)
    made = Scene(view)
    caps: list[Cap] = []
    for branch in pose.branches:
        swells = swells_of(branch)
        facets = [
            facet(
                branch, posed, view, swells, worked=_within(branch, posed.low, posed.high, spans), fine=fine
            )
            for posed in branch.segments
            if posed.segment.length > 0
            and (window is None or meet(_box(posed, view), window))
            and not is_caged(branch, posed.low, posed.high)
        ]
        if facets and facets[0].posed is branch.segments[0]:
            _root(pose, branch, facets[0], view)
        made.facets += facets
        is_closed, is_part = branch.branch.name in closed, window is not None
        caps += _caps(pose, branch, facets, view, is_closed=is_closed, is_part=is_part)
    if not made.facets:
        return made
    crowd = Crowd(pose, made, caps)
    made.strokes = list(crowd.plain()) if crowd.is_simple() else list(crowd.resolved())
    return made


def _root(pose: Pose, branch: PosedBranch, first: Facet, view: View) -> None:
    """Let a branch that stands at a slant on the side of another reach down into it."""
    attached = branch.branch.attached
    if attached is None or isinstance(attached.at, str) or not first.is_band:
        return
    if not branch.branch.is_held_at_start:
        return
    (x, y), _ = heading(branch.start, view)
    parent = pose.by_name[attached.parent]
    axes = parent.axes_at(attached.at)
    (along, up), _ = heading(axes, view)
    sine, cosine = abs(x * up - y * along), abs(x * along + y * up)
    half = math.dist(first.ring[0], first.ring[-1]) / 2
    down = half * min(cosine / sine if sine > 1e-6 else _MOST_ROOT, _MOST_ROOT)
    if down < EPS:
        return
    out = left_of((along, up))
    inside = reach(parent.branch.section_at(attached.at), axes, view, out)
    middle, rate = view.flat(axes.origin), -(x * out[0] + y * out[1])

    def rooted(spot: Spot) -> Spot:
        """Return where a side line begins: so far down, and not out of the other side of the parent."""
        off = (spot[0] - middle[0]) * out[0] + (spot[1] - middle[1]) * out[1]
        room = (inside[0] - off) / rate if rate < 0 else (inside[1] - off) / rate if rate > 0 else down
        far = max(min(down, room - EPS), 0.0)
        return spot[0] - x * far, spot[1] - y * far

    first.ring[:0] = [rooted(first.ring[0])]
    first.ring.append(rooted(first.ring[-1]))
    for _, line in first.lines[:2]:
        line.insert(0, rooted(line[0]))


def _box(posed: PosedSegment, view: View) -> Box:
    """Return a box [mm] that holds a segment in a view, if not closely."""
    left, low, right, top = around(view.flat(one.axes.origin) for one in posed.stations)
    ends = (posed.segment.start, posed.segment.end)
    far = max(math.hypot(one.width, one.thickness) for one in ends) / 2 + posed.segment.bulge
    return left - far, low - far, right + far, top + far


def _within(branch: PosedBranch, low: float, high: float, spans: list[Span]) -> bool:
    middle = (low + high) / 2
    return any(one.branch == branch.branch.name and one.low <= middle <= one.high for one in spans)


def _caps(
    pose: Pose, branch: PosedBranch, facets: list[Facet], view: View, *, is_closed: bool, is_part: bool
) -> Iterator[Cap]:
    """Yield the lines across a branch, from its start to its end; `is_part` where it is not there whole."""
    if not facets:
        return
    ends = {
        one.branch.attached.at
        for one in pose.branches
        if one.branch.attached and one.branch.attached.parent == branch.branch.name
    }
    first, last = facets[0], facets[-1]
    if not branch.branch.is_held_at_start and not is_closed:
        line = end_cap(first.posed, view, at_end=False)
        away = view.depth(first.posed.start.ahead) > 0
        yield Cap(first, "outline", line, "start" if "start" in ends else "", away)
    for one, two in itertools.pairwise(facets):
        if is_part and two.posed.low > one.posed.high + TOUCH:
            continue
        found = joint(one.posed, two.posed, view)
        if found is not None:
            owner = two if two.worked and not one.worked else one
            yield Cap(owner, *found)
        else:
            smooth = cap(two.posed.stations[0].section, two.posed.start, view)
            one.joint_caps.append(smooth)
            two.joint_caps.append(smooth)
    if not is_closed:
        line, away = end_cap(last.posed, view, at_end=True), view.depth(last.posed.end.ahead) < 0
        yield Cap(last, "outline", line, "end" if "end" in ends else "", away)
