"""How the segments of one view lie on each other: what covers what, and where branches run together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import LineString, Polygon, STRtree, union_all
from shapely.geometry.base import BaseGeometry

from procedures.engine.pieces.branch import Attachment
from procedures.engine.pieces.pose import Pose, PosedBranch

from .facets import Facet, Kind, cap
from .shapes import Shapes, line_shapes, lines_in, ring_shapes, wider, zones
from .strokes import EPS, Cap, Scene, Stroke
from .views import Line, hull


class Crowd:
    """The facets of one view and how they lie on each other."""

    def __init__(self, pose: Pose, made: Scene, caps: list[Cap]) -> None:
        self.pose = pose
        self.made = made
        self.caps = caps
        self.place = {id(one): index for index, one in enumerate(made.facets)}

    def is_simple(self) -> bool:
        """Whether nothing lies on anything else, so that every line can be drawn as it is."""
        facets = self.made.facets
        if len(self.pose.branches) > 1 or not all(one.is_band for one in facets):
            return False
        if any(len(one.line) > 2 for one in self.caps):
            return False
        boxes = np.array([one.box for one in facets])
        boxes += (EPS / 2, EPS / 2, -EPS / 2, -EPS / 2)
        outer: Shapes = shapely.box(*boxes.T)
        first, second = STRtree(outer).query(outer)
        return not np.any(second > first + 1)

    def plain(self) -> Iterator[Stroke]:
        """Yield every line as it is."""
        self.made.tones = [one.ring for one in self.made.facets if one.worked]
        for one in self.made.facets:
            for kind, line in one.lines:
                yield Stroke(kind, one.worked, line)
        for end in self.caps:
            yield Stroke(end.kind, end.owner.worked, end.line)

    def resolved(self) -> Iterator[Stroke]:
        """Yield what is left of every line when what covers it, or is one with it, is taken off."""
        facets = self.made.facets
        whole = ring_shapes([one.ring for one in facets])
        fans = self._fans()
        self.slim = wider(whole, -EPS)
        self.tree = STRtree(self.slim)
        self._lay(whole)
        lines = [(index, kind, line) for index, one in enumerate(facets) for kind, line in one.lines]
        yield from self._lines(lines, union_all(list(fans.values())).buffer(-EPS) if fans else None)
        self.made.tones += self._tones(whole)
        yield from self._cap_parts(whole, fans)
        yield from self._fan_parts(whole, fans)

    def _lay(self, whole: Shapes) -> None:
        """Find what covers each facet, and what lies level with it and has grown together with it."""
        one, two = self.tree.query(whole)
        near, far, half = np.array([(one.near, one.far, one.half) for one in self.made.facets]).T
        middle = (near + far) / 2
        slack = 0.2 * np.minimum(half[one], half[two]) + 0.05
        # Whether one facet lies nearer to the reader than another, all of it.
        over = (far[two] >= near[one] - slack) & (middle[two] > middle[one] + slack)
        under = (far[one] >= near[two] - slack) & (middle[one] > middle[two] + slack)
        branch = np.unique([facet.branch for facet in self.made.facets], return_inverse=True)[1]
        neighbours = (branch[one] == branch[two]) & (abs(one - two) == 1)
        beside = ~over & ~under & ~neighbours & (one != two)
        self.over, self.beside = (
            dict(zip(*zones(one[which], two[which], self.slim), strict=True)) for which in (over, beside)
        )

    def _lines(self, lines: list[tuple[int, Kind, Line]], joined: BaseGeometry | None) -> Iterator[Stroke]:
        """Yield what is seen of the lines along the facets, each with the place of its facet."""
        shapes = line_shapes([line for _, _, line in lines])
        places = [place for place, _, _ in lines]
        for index, place in enumerate(places):
            one = self.made.facets[place]
            for end in one.joint_caps if not one.is_band else ():
                if len(end) == 2:
                    shapes[index] = shapes[index].difference(LineString(end).buffer(2 * EPS))
        shapes = _without(shapes, [self.beside.get(place) for place in places])
        if joined is not None:
            near = STRtree(shapes).query(joined, predicate="intersects")
            shapes[near] = shapely.difference(shapes[near], joined)
        yield from self._parts(shapes, [(place, kind) for place, kind, _ in lines])

    def _tones(self, whole: Shapes) -> Iterator[Line]:
        """Yield closed lines round what was worked; of a child that begins in its parent, what is outside."""
        for index, one in enumerate(self.made.facets):
            if not one.worked:
                continue
            attached = self.pose.by_name[one.branch].branch.attached
            first = index == 0 or self.made.facets[index - 1].branch != one.branch
            if attached is None or not first:
                yield one.ring
                continue
            yield from self._outside(whole[index], attached)

    def _outside(self, shape: BaseGeometry, attached: Attachment | None) -> Iterator[Line]:
        """Yield the closed lines round what of a shape lies outside the branch that it hangs on."""
        facets = self.made.facets
        if attached is not None:
            over = [self.slim[one] for one in self.tree.query(shape) if facets[one].branch == attached.parent]
            shape = shape.difference(union_all(over).buffer(EPS, join_style="mitre"))
        for part in getattr(shape, "geoms", (shape,)):
            if isinstance(part, Polygon) and part.area > EPS:
                yield [(x, y) for x, y in part.exterior.coords[:-1]]

    def _fan_parts(self, whole: Shapes, fans: dict[str, Polygon]) -> Iterator[Stroke]:
        """Yield the open edges of the metal in a crotch, and note it as metal."""
        names = list(fans)
        near_fans = STRtree(list(fans.values()))
        for place, (child, fan) in enumerate(fans.items()):
            first = next(one for one in self.made.facets if one.branch == child)
            others = [fans[names[one]].buffer(-EPS) for one in near_fans.query(fan) if one != place]
            others += [whole[one] for one in self.tree.query(fan)]
            shape = fan.exterior.difference(union_all(others).buffer(EPS, join_style="mitre"))
            for _, line in lines_in([shape], 4 * EPS):
                yield Stroke("outline", first.worked, line)
            if first.worked:
                self.made.tones += self._outside(fan, self.pose.by_name[child].branch.attached)

    def _cap_parts(self, whole: Shapes, fans: dict[str, Polygon]) -> Iterator[Stroke]:
        places = [self.place[id(end.owner)] for end in self.caps]
        shapes = line_shapes([end.line for end in self.caps])
        shapes = _without(shapes, [self.beside.get(place) for place in places])
        for index, (end, place) in enumerate(zip(self.caps, places, strict=True)):
            if end.meets:
                hanging = [self._hangs_on(one.branch, end.owner.branch) for one in self.made.facets]
                children = wider(whole[hanging], 2 * EPS)
                open_metal = shapely.buffer(list(fans.values()), 2 * EPS, quad_segs=16)
                shapes[index] = shapes[index].difference(union_all([*children, *open_metal]))
            if len(end.line) > 2 and (end.faces_away or not self._is_straight(end.owner)):
                shapes[index] = shapes[index].difference(self.slim[place])
        yield from self._parts(
            shapes, [(place, end.kind) for place, end in zip(places, self.caps, strict=True)]
        )

    def _is_straight(self, one: Facet) -> bool:
        return one.is_band or one.posed.segment.path.kind == "straight"

    def _parts(self, shapes: Shapes, known: list[tuple[int, Kind]]) -> Iterator[Stroke]:
        """Yield what is left of each line as it is drawn, each with the place of its facet and its kind."""
        over = [self.over.get(place) for place, _ in known]
        seen = list(lines_in(_without(shapes, over), 4 * EPS))
        dashed = [index for index, (_, kind) in enumerate(known) if kind == "outline" and over[index]]
        hidden = shapely.intersection(shapes[dashed], [over[index] for index in dashed])
        found = [(index, False, line) for index, line in seen]
        found += [(dashed[index], True, line) for index, line in lines_in(hidden, 4 * EPS)]
        for index, is_hidden, line in sorted(found, key=lambda one: one[:2]):
            place, kind = known[index]
            yield Stroke("hidden" if is_hidden else kind, self.made.facets[place].worked, line)

    def _hangs_on(self, child: str, parent: str) -> bool:
        attached = self.pose.by_name[child].branch.attached
        return attached is not None and attached.parent == parent

    def _fans(self) -> dict[str, Polygon]:
        """Return by child the metal between its start and its share of the parent's end, if it turns away."""
        fans = {}
        seen = {one.branch for one in self.made.facets}
        for branch in self.pose.branches:
            attached = branch.branch.attached
            if attached is None or attached.at not in ("start", "end") or branch.branch.name not in seen:
                continue
            fan = self._fan(branch)
            if fan is not None and fan.area > EPS:
                fans[branch.branch.name] = fan
        return fans

    def _fan(self, branch: PosedBranch) -> Polygon | None:
        attached = branch.branch.attached
        assert attached is not None
        parent = self.pose.by_name[attached.parent]
        view = self.made.view
        section = branch.segments[0].segment.start
        axes = parent.end if attached.at == "end" else parent.start.backwards()
        square = axes.moved(0.0, left=attached.offset)
        first, second = cap(section, square, view), cap(section, branch.start, view)
        if len(first) != 2 or len(second) != 2:
            return None
        ring = hull(first + second)
        return Polygon(ring) if len(ring) > 2 else None


def _without(shapes: Shapes, taken: Sequence[BaseGeometry | None]) -> Shapes:
    """Return shapes less what is to be taken off each of them, if anything is."""
    less = shapes.copy()
    off = [index for index, one in enumerate(taken) if one is not None]
    less[off] = shapely.difference(shapes[off], [taken[index] for index in off])
    return less
