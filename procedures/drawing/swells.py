"""Where a bar is wider or narrower than its sections say: it stands out at a hole, dips in at a groove."""

from __future__ import annotations

import math
from dataclasses import dataclass

from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.pose import PosedBranch, PosedSegment, Station

from .views import Spot, View

_STEPS = 8  # stations on each side of the middle
_SQUARE = 0.7  # cosine: a face is seen from the side when it is turned at least so far across


@dataclass(frozen=True)
class Swell:
    """How a bar stands out or dips in about a feature: nothing more from `wide` mm off its middle."""

    feature: Feature
    wide: float

    def is_on(self, posed: PosedSegment) -> bool:
        """Whether it reaches a segment."""
        return self.feature.at - self.wide < posed.high and posed.low < self.feature.at + self.wide

    def beside(self, station: Station, across: Spot, view: View) -> tuple[float, float]:
        """Return how much further the bar reaches to its right and to its left in a view [mm]."""
        off = abs(station.at - self.feature.at)
        if off >= self.wide:
            return 0.0, 0.0
        axes = station.axes
        left = axes.left[0] * across[0] + axes.left[view.upward] * across[1]
        if self.feature.kind == "groove":
            up = axes.up[0] * across[0] + axes.up[view.upward] * across[1]
            return self._dip(off, left, up)
        more = self.feature.bulge * (1 + math.cos(math.pi * off / self.wide)) / 4 * abs(left)
        return more, more

    def _dip(self, off: float, left: float, up: float) -> tuple[float, float]:
        """Return the same for a groove: a segment of a circle, pressed in from the sides it names."""
        one = self.feature
        half, depth = one.length / 2, one.depth
        radius = (half * half + depth * depth) / (2 * depth)
        dip = math.sqrt(max(radius * radius - off * off, 0.0)) - (radius - depth)
        turned = up if one.face == "flat" else left
        if one.side == "all":
            turned = max((up, left), key=abs)
        if abs(turned) < _SQUARE or dip <= 0:
            return 0.0, 0.0
        sides = {"top": (0, 1), "left": (0, 1), "bottom": (1, 0), "right": (1, 0)}.get(one.side, (1, 1))
        low, high = sides if turned > 0 else sides[::-1]
        return -dip * low, -dip * high


def swells_of(branch: PosedBranch) -> list[Swell]:
    """Return what makes a branch stand out or dip in: about each hole with a boss, and each groove."""
    found = []
    for one in branch.branch.features:
        wide = 0.0
        if one.kind == "groove" and one.depth > 0:
            wide = one.length / 2
        elif one.bulge > 0:
            width = branch.branch.section_at(one.at).width
            wide = one.length / 2 + max((width + one.bulge - one.width) / 2, one.length / 4)
        if wide > 0:
            found.append(Swell(one, wide))
    return found


def stations_with(branch: PosedBranch, posed: PosedSegment, swells: list[Swell]) -> list[Station]:
    """Return the stations of a segment, with more of them where it stands out or dips in."""
    stations = list(posed.stations)
    steps = range(-_STEPS, _STEPS + 1)
    wanted = {one.feature.at + one.wide * step / _STEPS for one in swells for step in steps}
    known = [one.at for one in stations]
    inside = [
        at for at in wanted if posed.low < at < posed.high and all(abs(at - one) > 1e-6 for one in known)
    ]
    stations += [Station(at, branch.axes_at(at), posed.segment.section_at(at - posed.low)) for at in inside]
    return sorted(stations, key=lambda one: one.at) if inside else stations
