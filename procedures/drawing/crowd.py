"""How the segments of one view lie on each other: what covers what, and where branches run together."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import LineString, Polygon, STRtree, make_valid, union_all
from shapely.geometry.base import BaseGeometry

from procedures.engine.pieces.branch import Attachment
from procedures.engine.pieces.pose import Pose, PosedBranch

from .facets import Facet, Kind, cap
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
        boxes = [one.box for one in facets]
        return not any(
            _overlap(boxes[first], boxes[second])
            for first in range(len(boxes))
            for second in range(first + 2, len(boxes))
        )

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
        whole = [_polygon(one.ring) for one in facets]
        fans = self._fans(whole)
        joined = union_all(list(fans.values())).buffer(-EPS) if fans else None
        self.slim = [one.buffer(-EPS, join_style="mitre") for one in whole]
        self.tree = STRtree(self.slim)
        for index, one in enumerate(facets):
            over, beside = self._over_and_beside(index)
            away = beside if joined is None else beside.union(joined)
            for kind, line in one.lines:
                shape = _line(line)
                if not one.is_band:
                    for end in one.joint_caps:
                        if len(end) == 2:
                            shape = shape.difference(LineString(end).buffer(2 * EPS))
                yield from self._parts(kind, one.worked, shape.difference(away), over)
        self.made.tones += self._tones(whole)
        for one_cap in self.caps:
            yield from self._cap_parts(one_cap, whole, fans)
        yield from self._fan_parts(whole, fans)

    def _tones(self, whole: list[BaseGeometry]) -> Iterator[Line]:
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

    def _fan_parts(self, whole: list[BaseGeometry], fans: dict[str, Polygon]) -> Iterator[Stroke]:
        """Yield the open edges of the metal in a crotch, and note it as metal."""
        names = list(fans)
        near_fans = STRtree(list(fans.values()))
        for place, (child, fan) in enumerate(fans.items()):
            first = next(one for one in self.made.facets if one.branch == child)
            others = [fans[names[one]].buffer(-EPS) for one in near_fans.query(fan) if one != place]
            others += [whole[one] for one in self.tree.query(fan)]
            shape = fan.exterior.difference(union_all(others).buffer(EPS, join_style="mitre"))
            yield from self._parts("outline", first.worked, shape, Polygon())
            if first.worked:
                self.made.tones += self._outside(fan, self.pose.by_name[child].branch.attached)

    def _cap_parts(self, end: Cap, whole: list[BaseGeometry], fans: dict[str, Polygon]) -> Iterator[Stroke]:
        index = self.place[id(end.owner)]
        over, beside = self._over_and_beside(index)
        shape = _line(end.line).difference(beside)
        if end.meets:
            children = [
                whole[place].buffer(2 * EPS, join_style="mitre")
                for place, one in enumerate(self.made.facets)
                if self._hangs_on(one.branch, end.owner.branch)
            ]
            shape = shape.difference(union_all(children + [one.buffer(2 * EPS) for one in fans.values()]))
        if len(end.line) > 2 and (end.faces_away or not self._is_straight(end.owner)):
            shape = shape.difference(self.slim[index])
        yield from self._parts(end.kind, end.owner.worked, shape, over)

    def _is_straight(self, one: Facet) -> bool:
        return one.is_band or one.posed.segment.path.kind == "straight"

    def _parts(self, kind: Kind, worked: bool, shape: BaseGeometry, over: BaseGeometry) -> Iterator[Stroke]:
        for line in _lines(shape.difference(over)):
            yield Stroke(kind, worked, line)
        if kind == "outline" and not over.is_empty:
            for line in _lines(shape.intersection(over)):
                yield Stroke("hidden", worked, line)

    def _over_and_beside(self, index: int) -> tuple[BaseGeometry, BaseGeometry]:
        """Return what covers a facet, and what lies level with it and has grown together with it."""
        facets = self.made.facets
        one = facets[index]
        over, beside = [], []
        for other in self.tree.query(_polygon(one.ring)):
            two = facets[other]
            if two is one:
                continue
            if _covers(two, one):
                over.append(self.slim[other])
            elif not _covers(one, two) and not self._neighbours(index, int(other)):
                beside.append(self.slim[other])
        return union_all(over) if over else Polygon(), union_all(beside) if beside else Polygon()

    def _neighbours(self, first: int, second: int) -> bool:
        same = self.made.facets[first].branch == self.made.facets[second].branch
        return same and abs(first - second) == 1

    def _hangs_on(self, child: str, parent: str) -> bool:
        attached = self.pose.by_name[child].branch.attached
        return attached is not None and attached.parent == parent

    def _fans(self, whole: list[BaseGeometry]) -> dict[str, Polygon]:
        """Return by child the metal between its start and its share of the parent's end, if it turns away."""
        fans = {}
        for branch in self.pose.branches:
            attached = branch.branch.attached
            if attached is None or attached.at not in ("start", "end") or not branch.segments:
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


def _covers(upper: Facet, lower: Facet) -> bool:
    """Whether one facet lies nearer to the reader than another, all of it."""
    slack = 0.2 * min(upper.half, lower.half) + 0.05
    middle, other = (upper.near + upper.far) / 2, (lower.near + lower.far) / 2
    return upper.far >= lower.near - slack and middle > other + slack


def _overlap(one: tuple[float, float, float, float], two: tuple[float, float, float, float]) -> bool:
    return one[0] < two[2] - EPS and two[0] < one[2] - EPS and one[1] < two[3] - EPS and two[1] < one[3] - EPS


def _polygon(ring: Line) -> BaseGeometry:
    if len(ring) < 3:
        return Polygon()
    polygon = Polygon(ring)
    return polygon if polygon.is_valid else make_valid(polygon)


def _line(line: Line) -> BaseGeometry:
    return LineString(line) if len(line) > 1 else LineString()


def _lines(shape: BaseGeometry) -> Iterator[Line]:
    """Yield the lines of what is left of a line."""
    for one in getattr(shape, "geoms", (shape,)):
        if one.geom_type in ("LineString", "LinearRing") and one.length > 4 * EPS:
            yield [(x, y) for x, y in one.coords]
