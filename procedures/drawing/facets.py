"""What one segment looks like in one view: its silhouette, and the edges and joints on it. All in mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from shapely import Polygon, union_all

from calculators.sections import Section
from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.path import Straight
from procedures.engine.pieces.pose import PosedBranch, PosedSegment, Station

from .swells import Swell, stations_with
from .twists import is_fine_twist, twist_band
from .views import Line, Spot, View, half_depth, heading, hull, left_of, outline_of, projected, reach

Kind = Literal["outline", "edge"]
_FORESHORTENED = (
    0.35  # seen shorter than this share of itself, a run's silhouette is no longer two side lines
)
_TOUCH = 0.15  # mm: sections nearer to each other than this, as after a heat, show no step
_FLUSH = 0.02  # mm: a corner nearer to the silhouette than this is on it
_KINK = 0.02  # mm per mm: sides that turn by less show no line
_MOST_CORNERS = 8  # of a section whose long edges are worth drawing


@dataclass
class Facet:
    """One segment in one view.

    `ring` is its silhouette, `lines` what is to be drawn of it. `caps` are the lines across its two ends,
    `near` and `far` how near to the reader its centreline lies [mm], `half` how thick it is that way.
    """

    branch: str
    posed: PosedSegment
    worked: bool
    ring: Line
    is_band: bool
    near: float
    far: float
    half: float
    lines: list[tuple[Kind, Line]] = field(default_factory=list)
    joint_caps: list[Line] = field(default_factory=list)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least x and y, most x and y."""
        xs = [spot[0] for spot in self.ring]
        ys = [spot[1] for spot in self.ring]
        return min(xs), min(ys), max(xs), max(ys)


def facet(
    branch: PosedBranch,
    posed: PosedSegment,
    view: View,
    swells: Iterable[Swell] = (),
    *,
    worked: bool,
    fine: float,
) -> Facet:
    """Return a segment as seen in a view, without its ends; lines may lie `fine` mm from the true ones.

    `swells` are those of its branch.
    """
    if is_fine_twist(posed, view, fine):
        return _twisted(branch, posed, view, worked=worked, fine=fine)
    swells = [one for one in swells if one.is_on(posed)]
    stations = stations_with(branch, posed, swells)
    headings = [heading(one.axes, view) for one in stations]
    depths = [view.depth(one.axes.origin) for one in stations]
    half = max(half_depth(one.section, one.axes, view) for one in stations)
    is_band = all(seen > _FORESHORTENED for _, seen in headings)
    if is_band:
        left, right = _sides(stations, [way for way, _ in headings], swells, view)
        ring, sides = left + right[::-1], [left, right]
    else:
        ring = _hulls(stations, view)
        sides = [[*ring, ring[0]]]
    made = Facet(branch.branch.name, posed, worked, ring, is_band, max(depths), min(depths), half)
    made.lines += [("outline", side) for side in sides]
    made.lines += [("edge", line) for line in _long_edges(posed, view)]
    if posed.segment.layers > 1:
        made.lines += [("edge", line) for line in _layers(posed, view)]
    return made


def _twisted(branch: PosedBranch, posed: PosedSegment, view: View, *, worked: bool, fine: float) -> Facet:
    left, right, lines = twist_band(posed, view, fine)
    depths = [view.depth(one.origin) for one in (posed.start, posed.end)]
    half = max(half_depth(one.section, one.axes, view) for one in (posed.stations[0], posed.stations[-1]))
    made = Facet(branch.branch.name, posed, worked, left + right[::-1], True, max(depths), min(depths), half)
    made.lines += [("outline", left), ("outline", right), *(("edge", one) for one in lines)]
    return made


def end_cap(posed: PosedSegment, view: View, *, at_end: bool) -> Line:
    """Return the line across an end of a segment; a closed outline where the end is seen at a slant."""
    station = posed.stations[-1 if at_end else 0]
    return cap(station.section, station.axes, view)


def cap(section: Section, axes: Axes, view: View) -> Line:
    """Return a cross-section as seen in a view: a line across, or its outline where it is seen at a slant."""
    way, seen = heading(axes, view)
    if seen > 0.9995:
        across = left_of(way)
        low, high = reach(section, axes, view, across)
        x, y = view.flat(axes.origin)
        return [(x + across[0] * low, y + across[1] * low), (x + across[0] * high, y + across[1] * high)]
    ring = hull(projected(section, axes, view))
    return [*ring, ring[0]] if len(ring) > 2 else ring


def joint(first: PosedSegment, second: PosedSegment, view: View) -> tuple[Kind, Line] | None:
    """Return the line that shows where two segments meet, or None where one runs smoothly into the other."""
    one, two = first.stations[-1], second.stations[0]
    way, seen = heading(one.axes, view)
    across = left_of(way)
    low, high = reach(one.section, one.axes, view, across)
    low_2, high_2 = (at + _off(one, two, across, view) for at in reach(two.section, two.axes, view, across))
    if max(abs(low - low_2), abs(high - high_2)) > _TOUCH:
        if seen < 0.9995:
            larger = one if high - low > high_2 - low_2 else two
            return "outline", cap(larger.section, larger.axes, view)
        x, y = view.flat(one.axes.origin)
        ends = min(low, low_2), max(high, high_2)
        return "outline", [(x + across[0] * end, y + across[1] * end) for end in ends]
    twisted = bool(first.segment.twist) != bool(second.segment.twist)
    turned = abs(_slope(first, view, at_end=True) - _slope(second, view, at_end=False)) > _KINK
    return ("edge", cap(one.section, one.axes, view)) if twisted or turned else None


def _off(one: Station, two: Station, across: Spot, view: View) -> float:
    """Return how far the centre line jumps between two stations in one place, at a ledge [mm]."""
    (x, y), (x_2, y_2) = view.flat(one.axes.origin), view.flat(two.axes.origin)
    return (x_2 - x) * across[0] + (y_2 - y) * across[1]


def _slope(posed: PosedSegment, view: View, *, at_end: bool) -> float:
    """Return how fast a run gets wider in a view at one of its ends, mm per mm."""
    if posed.segment.is_even or posed.segment.length <= 0:
        return 0.0
    one, two = posed.stations[-2:] if at_end else posed.stations[:2]
    if two.at - one.at <= 0:
        return 0.0
    widths = []
    for station in (one, two):
        low, high = reach(station.section, station.axes, view, left_of(heading(station.axes, view)[0]))
        widths.append(high - low)
    return (widths[1] - widths[0]) / (two.at - one.at)


# -- silhouettes -------------------------------------------------------------------------------------


def _sides(stations: list[Station], ways: list[Spot], swells: list[Swell], view: View) -> tuple[Line, Line]:
    """Return the left and right side line of a run: at each station, as far out as its section reaches."""
    lefts: Line = []
    rights: Line = []
    for station, way in zip(stations, ways, strict=True):
        across = left_of(way)
        low, high = reach(station.section, station.axes, view, across)
        for one in swells:
            more_low, more_high = one.beside(station, across, view)
            low, high = low - more_low, high + more_high
        x, y = view.flat(station.axes.origin)
        lefts.append((x + across[0] * high, y + across[1] * high))
        rights.append((x + across[0] * low, y + across[1] * low))
    return lefts, rights


def _hulls(stations: list[Station], view: View) -> Line:
    """Return the silhouette of a run seen end on or nearly so: the hulls between its stations, together."""
    outlines = [projected(one.section, one.axes, view) for one in stations]
    if len(outlines) == 2 or _runs_edge_on(stations, view):
        return _with_area(hull([spot for line in outlines for spot in line]))
    hulls = [Polygon(_with_area(hull(first + second))) for first, second in pairwise(outlines)]
    whole = union_all(hulls)
    if not isinstance(whole, Polygon):
        return _with_area(hull([spot for line in outlines for spot in line]))
    return [(x, y) for x, y in whole.exterior.coords[:-1]]


def _with_area(ring: Line) -> Line:
    """Return a hull given a hair of breadth where its spots lie in a line or in one place."""
    if len(ring) > 2:
        return ring
    hair = 1e-4
    corners = [(x + a * hair, y + b * hair) for x, y in ring for a in (-1, 1) for b in (-1, 1)]
    return hull(corners)


def _runs_edge_on(stations: list[Station], view: View) -> bool:
    """Whether a curve lies in a plane that the reader looks along, so that it seems to run straight."""
    ways = [(one.axes.ahead[0], one.axes.ahead[view.upward]) for one in stations]
    longest = max(ways, key=lambda one: one[0] ** 2 + one[1] ** 2)
    return all(abs(x * longest[1] - y * longest[0]) < 1e-6 for x, y in ways)


# -- edges along the bar -----------------------------------------------------------------------------


def _long_edges(posed: PosedSegment, view: View) -> list[Line]:
    """Return the corners of the section that run along the bar and that the reader sees within it.

    Not for a round, which has none, nor where the number of corners changes on the way.
    """
    count = len(outline_of(posed.segment.start))
    if not 3 <= count <= _MOST_CORNERS or count != len(outline_of(posed.segment.end)):
        return []
    if (
        isinstance(posed.segment.path, Straight)
        and not posed.segment.twist
        and count <= 4
        and _is_flush(posed)
    ):
        return []
    lines = []
    for index in range(count):
        run: Line = []
        for station in posed.stations:
            spot = _seen_corner(station, index, view)
            if spot is None:
                lines.append(run)
                run = []
            else:
                run.append(spot)
        lines.append(run)
    return [one for one in lines if len(one) > 1]


def _is_flush(posed: PosedSegment) -> bool:
    """Whether the faces of a run lie square to both views, so that its corners are on its silhouettes."""
    axes = posed.start
    return all(abs(one) < 1e-6 or abs(one) > 1 - 1e-6 for one in (*axes.left, *axes.up))


def _seen_corner(station: Station, index: int, view: View) -> Spot | None:
    """Return where a corner of a section lies, or None where it is behind the bar or on its silhouette."""
    corners = outline_of(station.section)
    axes = station.axes
    y, z = corners[index]
    forward = y * axes.left[view.toward] + z * axes.up[view.toward]
    if forward * view.sense <= 1e-6:
        return None
    way, seen = heading(axes, view)
    if seen <= _FORESHORTENED:
        return None
    across = left_of(way)
    low, high = reach(station.section, axes, view, across)
    place = axes.point(0.0, y, z)
    x, up = view.flat(place)
    ox, oy = view.flat(axes.origin)
    off = (x - ox) * across[0] + (up - oy) * across[1]
    return None if off > high - _FLUSH or off < low + _FLUSH else (x, up)


def _layers(posed: PosedSegment, view: View) -> list[Line]:
    """Return the lines between layers that lie close without being welded, seen from their edges."""
    lines: list[Line] = [[] for _ in range(posed.segment.layers - 1)]
    for station in posed.stations:
        way, seen = heading(station.axes, view)
        across = left_of(way)
        shown = station.axes.up[0] * across[0] + station.axes.up[view.upward] * across[1]
        if seen < _FORESHORTENED or abs(shown) < 0.5:
            return []
        for index, line in enumerate(lines, start=1):
            height = (index / posed.segment.layers - 0.5) * station.section.thickness
            line.append(view.flat(station.axes.point(0.0, 0.0, height)))
    return lines
