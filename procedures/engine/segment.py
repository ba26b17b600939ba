"""A segment: a run of bar whose section goes evenly from one end to the other."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from calculators.sections import (
    Section,
    taper_fraction_of_volume,
    taper_volume,
    taper_volume_to,
)

from .origin import Slice, in_a_row, part_of, turned
from .path import STRAIGHT, Path, Straight

TOUCH = 1e-6  # mm: places nearer to each other than this are the same place


@dataclass(frozen=True, slots=True)
class Segment:
    """A run of bar from section `start` to section `end`, `length` mm along its centreline.

    The solid is the convex hull of its two end sections, so that width, thickness and perimeter change
    evenly. `twist` counts turns about its own axis, right-handed positive. `layers` is 2 or more where
    folded metal lies close without being welded.
    """

    start: Section
    end: Section
    length: float
    path: Path = STRAIGHT
    twist: float = 0.0
    layers: int = 1
    origin: tuple[Slice, ...] = ()

    @property
    def volume(self) -> float:
        """Volume [mm³]: L (A0 + M + A1) / 3 with the mixed area M of the end sections; exact."""
        return taper_volume(self.start, self.end, self.length)

    @property
    def modulus(self) -> float:
        """Volume per mm² of skin [mm]: what heating, cooling and scale depend on."""
        skin = (self.start.perimeter + self.end.perimeter) / 2 * self.length
        return self.volume / skin if skin > 0 else 0.0

    @property
    def is_straight(self) -> bool:
        """Whether the centreline is straight and the bar not twisted."""
        return isinstance(self.path, Straight) and not self.twist

    def section_at(self, at: float) -> Section:
        """Return the section at the distance `at` [mm] from its start."""
        if self.start == self.end or self.length <= 0:
            return self.start
        return self.start.blend(self.end, min(max(at / self.length, 0.0), 1.0))

    def volume_to(self, at: float) -> float:
        """Return the volume [mm³] between its start and the distance `at` [mm]."""
        if self.start == self.end:
            return self.start.area * at
        return taper_volume_to(self.start, self.end, self.length, at / self.length)

    def at_volume(self, volume: float) -> float:
        """Return the distance [mm] from its start within which this volume [mm³] lies."""
        whole = self.volume
        if whole <= 0:
            return 0.0
        if self.start == self.end:
            return self.length * volume / whole
        return self.length * taper_fraction_of_volume(self.start, self.end, volume / whole)

    def cut(self, at: float) -> tuple[Segment, Segment]:
        """Return the two segments on either side of the distance `at` [mm] from its start."""
        middle = self.section_at(at)
        share = self.volume_to(at) / self.volume if self.volume > 0 else at / self.length
        first_path, second_path = self.path.cut(self.length, at)
        turns = self.twist * at / self.length
        first = replace(
            self,
            end=middle,
            length=at,
            path=first_path,
            twist=turns,
            origin=part_of(self.origin, 0, share),
        )
        second = replace(
            self,
            start=middle,
            length=self.length - at,
            path=second_path,
            twist=self.twist - turns,
            origin=part_of(self.origin, share, 1),
        )
        return first, second

    def turned(self) -> Segment:
        """Return the same metal seen from its other end."""
        return replace(
            self, start=self.end, end=self.start, path=self.path.turned(), origin=turned(self.origin)
        )

    def receded(self, depth: float) -> Segment:
        """Return the segment after its skin went back by `depth` [mm] of metal; its length stays."""
        if depth <= 0:
            return self
        slim = replace(self, start=self.start.receded(depth), end=self.end.receded(depth))
        if self.start == self.end or len(self.origin) < 2:
            return slim
        return replace(slim, origin=tuple(self._slice_in(slim, one) for one in self.origin))

    def _slice_in(self, slim: Segment, one: Slice) -> Slice:
        """Return the slice by the volume shares of `slim`: the metal stays where it is along the bar."""
        whole, thin = self.volume, slim.volume
        if whole <= 0 or thin <= 0:
            return one
        low = slim.volume_to(self.at_volume(one.low * whole)) / thin
        high = slim.volume_to(self.at_volume(one.high * whole)) / thin
        return replace(one, low=low, high=high)

    def on_bar(self, at: float) -> list[Slice]:
        """Return the slices of starting bar that lie at the distance `at` [mm]; several where layers lie."""
        share = self.volume_to(at) / self.volume if self.volume > 0 else 0.0
        return [one for one in self.origin if one.low - 1e-9 <= share <= one.high + 1e-9]

    def bar_positions(self, at: float) -> list[tuple[str, float]]:
        """Return (bar, place on it [mm]) for the metal at the distance `at` [mm]."""
        share = self.volume_to(at) / self.volume if self.volume > 0 else 0.0
        return [(one.bar, one.at(share)) for one in self.on_bar(at)]


def uniform(section: Section, length: float) -> Segment:
    """Return a straight run of one section."""
    return Segment(section, section, length)


def with_origins(new: tuple[Segment, ...], old: tuple[Segment, ...]) -> tuple[Segment, ...]:
    """Return the new segments carrying the origin of the old run of metal, by volume fraction."""
    history = in_a_row([(one.origin, one.volume) for one in old])
    total = sum(one.volume for one in new)
    if total <= 0 or not history:
        return new
    carried = []
    done = 0.0
    for one in new:
        low, high = done / total, (done + one.volume) / total
        carried.append(replace(one, origin=part_of(history, low, min(high, 1.0))))
        done += one.volume
    return tuple(carried)


def close(first: float, second: float) -> bool:
    """Whether two distances [mm] are the same place."""
    return math.isclose(first, second, rel_tol=0, abs_tol=TOUCH)
