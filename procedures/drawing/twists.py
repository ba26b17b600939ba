"""Twists too tight or too long to draw corner by corner: the band they fill, and lines that lean alike."""

from __future__ import annotations

import math

from procedures.engine.pieces.path import Straight
from procedures.engine.pieces.pose import PosedSegment, Station

from .views import Line, View, heading, left_of, outline_of

_TIGHT = 18.0  # times as far as a line may lie from the true one: a quarter turn shorter than that is tight
_MANY = 9  # turns that are drawn corner by corner
_MOST = 60  # leaning lines
_WITHIN = 0.86  # of the band's half width: how far from its middle a line begins
_SEEN = 0.7
_CORNERS = 8  # of a section whose twist can be seen


def is_fine_twist(posed: PosedSegment, view: View, fine: float) -> bool:
    """Whether a twist is drawn as a band; `fine` is how far lines may lie from the true ones [mm]."""
    segment = posed.segment
    if not segment.twist or not isinstance(segment.path, Straight) or fine <= 0:
        return False
    if heading(posed.start, view)[1] < _SEEN or len(outline_of(segment.start)) > _CORNERS:
        return False
    return abs(segment.twist) > _MANY or segment.length / (4 * abs(segment.twist)) < _TIGHT * fine


def twist_band(posed: PosedSegment, view: View, fine: float) -> tuple[Line, Line, list[Line]]:
    """Return the left and right side of the band that a twist fills in a view, and the lines on it [mm]."""
    first, last = posed.stations[0], posed.stations[-1]
    way, seen = heading(posed.start, view)
    out = left_of(way)
    x, y = view.flat(posed.start.origin)
    halves = _half(first), _half(last)
    long = posed.segment.length * seen

    def spot(along: float, share: float) -> tuple[float, float]:
        off = share * (halves[0] + (halves[1] - halves[0]) * min(max(along / long, 0.0), 1.0))
        return x + way[0] * along + out[0] * off, y + way[1] * along + out[1] * off

    turns = posed.segment.twist
    count = max(min(int(4 * abs(turns)), int(long / (_TIGHT * fine)), _MOST), 1)
    lean = min(long / (4 * abs(turns)), max(halves), 0.45 * long / count)
    lean = math.copysign(max(lean, _TIGHT * fine / 4), turns)
    lines = [
        [spot(middle - lean, _WITHIN), spot(middle + lean, -_WITHIN)]
        for middle in (long * (index + 0.5) / count for index in range(count))
        if abs(lean) < middle < long - abs(lean)
    ]
    return [spot(0.0, 1.0), spot(long, 1.0)], [spot(0.0, -1.0), spot(long, -1.0)], lines


def _half(station: Station) -> float:
    """Return how far the corners of a section lie from its middle [mm]."""
    return max(math.hypot(y, z) for y, z in outline_of(station.section))
