"""A segment: a run of bar whose section goes evenly from one end to the other."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from calculators.leaves import (
    Circle,
    leaf_fraction_of_volume,
    leaf_volume,
    leaf_volume_to,
    mean_widening,
    part_of_circle,
    widening,
    widest_at,
)
from calculators.sections import (
    Section,
    taper_fraction_of_volume,
    taper_volume,
    taper_volume_to,
)

from .origin import Slice, cut_at, part_of, turned
from .path import STRAIGHT, Arc, Corner, Path, Spiral, Straight
from .treatment import UNTREATED, Treatment

LEVEL = (0.0, 0.0)  # the lean of a segment that runs along its bar
_NOT_YET = -1.0
_PARTS = 8  # of an uneven segment, within which its metal may be taken as even
TOUCH = 1e-6  # mm: places nearer to each other than this are the same place


@dataclass(frozen=True, slots=True)
class Segment:
    """A run of bar from section `start` to section `end`, `length` mm along its centreline.

    The solid is the convex hull of its two end sections, so that width, thickness and perimeter change
    evenly; with a `bulge` it is a leaf, 4·bulge·x·(1-x) mm wider than that at the fraction x of its length,
    or with a `circle` as well that part of a disc, from 0 to 1 of its diameter, which is the bulge.
    `twist` counts turns about its own axis, right-handed positive. `layers` is 2 or more where folded metal
    lies close without being welded. `shift` is how far the centreline lies to the left of and above that of
    the branch [mm], where metal was set down from one side; None is "in line with what was there". `lean` is
    how much further it lies to the left and up at the end than at the start [mm]: so a scarf slopes.
    `texture` names the pattern on its surface, `treatment` the state that heat treatment and finish left it
    in.
    """

    start: Section
    end: Section
    length: float
    path: Path = STRAIGHT
    twist: float = 0.0
    layers: int = 1
    origin: tuple[Slice, ...] = ()
    bulge: float = 0.0
    circle: Circle | None = None
    shift: tuple[float, float] | None = None
    lean: tuple[float, float] = LEVEL
    texture: str = ""
    treatment: Treatment = UNTREATED
    _volume: float = field(default=_NOT_YET, init=False, repr=False, compare=False)

    @property
    def volume(self) -> float:
        """Volume [mm³]: L (A0 + M + A1) / 3 with M the mixed area of its ends, and a leaf's bulge; exact."""
        if self._volume == _NOT_YET:
            object.__setattr__(self, "_volume", self._reckoned_volume())
        return self._volume

    def _reckoned_volume(self) -> float:
        if self.bulge:
            return leaf_volume(self.start, self.end, self.length, self.bulge, self.circle)
        return taper_volume(self.start, self.end, self.length)

    @property
    def skin(self) -> float:
        """Area of its outside [mm²], its two ends left out."""
        wider = mean_widening(self.bulge, self.circle)  # the perimeter has it twice
        return ((self.start.perimeter + self.end.perimeter) / 2 + 2 * wider) * self.length

    @property
    def modulus(self) -> float:
        """Volume per mm² of skin [mm]: what heating, cooling and scale depend on."""
        return self.volume / self.skin if self.skin > 0 else 0.0

    @property
    def is_even(self) -> bool:
        """Whether it has one section from end to end."""
        return self.start == self.end and not self.bulge

    @property
    def widest(self) -> Section:
        """The section at its widest place."""
        return self.section_at(self.widest_at)

    @property
    def widest_at(self) -> float:
        """How far from its start [mm] it is widest."""
        return self.length * widest_at(self.start, self.end, self.bulge, self.circle)

    @property
    def aside(self) -> tuple[float, float]:
        """How far its centreline lies to the left of and above that of the branch at its start [mm]."""
        return self.shift or (0.0, 0.0)

    @property
    def aside_at_end(self) -> tuple[float, float]:
        """How far its centreline lies to the left of and above that of the branch at its end [mm]."""
        return self.aside[0] + self.lean[0], self.aside[1] + self.lean[1]

    @property
    def is_straight(self) -> bool:
        """Whether the centreline is straight and the bar not twisted."""
        return isinstance(self.path, Straight) and not self.twist

    def section_at(self, at: float) -> Section:
        """Return the section at the distance `at` [mm] from its start."""
        if self.is_even or self.length <= 0:
            return self.start
        x = min(max(at / self.length, 0.0), 1.0)
        return self.start.blend(self.end, x).widened(widening(self.bulge, x, self.circle))

    def volume_to(self, at: float) -> float:
        """Return the volume [mm³] between its start and the distance `at` [mm]."""
        if self.is_even:
            return self.start.area * at
        x = at / self.length
        if self.bulge:
            return leaf_volume_to(self.start, self.end, self.length, self.bulge, x, self.circle)
        return taper_volume_to(self.start, self.end, self.length, x)

    def at_volume(self, volume: float) -> float:
        """Return the distance [mm] from its start within which this volume [mm³] lies."""
        whole = self.volume
        if whole <= 0:
            return 0.0
        share = min(volume / whole, 1.0)
        if self.is_even:
            return self.length * share
        if self.bulge:
            ends = self.start, self.end
            return self.length * leaf_fraction_of_volume(*ends, self.bulge, share, self.circle)
        return self.length * taper_fraction_of_volume(self.start, self.end, share)

    def cut(self, at: float) -> tuple[Segment, Segment]:
        """Return the two segments on either side of the distance `at` [mm] from its start."""
        middle, x = self.section_at(at), at / self.length
        share = self.volume_to(at) / self.volume if self.volume > 0 and not self.is_even else x
        first_path, second_path = self.path.cut(self.length, at)
        outlines: tuple[tuple[float, Circle | None], ...]
        outlines = (self.bulge * x * x, None), (self.bulge * (1 - x) * (1 - x), None)
        if self.circle is not None:
            outlines = tuple((self.bulge, one) for one in part_of_circle(self.circle, x))
        turns, lean = self.twist * x, (self.lean[0] * x, self.lean[1] * x)
        first = replace(
            self,
            end=middle,
            length=at,
            path=first_path,
            twist=turns,
            origin=part_of(self.origin, 0, share),
            bulge=outlines[0][0],
            circle=outlines[0][1],
            lean=lean,
        )
        second = replace(
            self,
            start=middle,
            length=self.length - at,
            path=second_path,
            twist=self.twist - turns,
            origin=part_of(self.origin, share, 1),
            bulge=outlines[1][0],
            circle=outlines[1][1],
            shift=first.aside_at_end if self.lean != LEVEL else self.shift,
            lean=(self.lean[0] - lean[0], self.lean[1] - lean[1]),
        )
        return first, second

    def turned(self) -> Segment:
        """Return the same metal seen from its other end."""
        return replace(
            self,
            start=self.end,
            end=self.start,
            path=self.path.turned(),
            origin=turned(self.origin),
            shift=_other_hand(self.aside_at_end) if self.lean != LEVEL or self.shift else self.shift,
            lean=(self.lean[0], 0.0 - self.lean[1]),
            circle=self.circle and (1 - self.circle[1], 1 - self.circle[0]),
        )

    def mirrored(self) -> Segment:
        """Return the segment as told in a frame whose left is the other side."""
        path = self.path
        if isinstance(path, Arc | Corner | Spiral) and path.plane == "hard":
            path = replace(path, turn=-path.turn)
        return replace(
            self, path=path, shift=self.shift and _other_hand(self.shift), lean=_other_hand(self.lean)
        )

    def treated(self, treatment: Treatment) -> Segment:
        """Return the segment in another state of heat treatment and finish."""
        return replace(self, treatment=treatment)

    def reworked(self, start: Section, end: Section, bulge: float = 0.0) -> Segment:
        """Return its metal as a straight run between two other sections: its length follows from volume.

        With a bulge [mm] it keeps its kind of outline.

        Raises ValueError where those hold no metal at all.
        """
        circle = self.circle if bulge else None
        each = leaf_volume(start, end, 1.0, bulge, circle)
        if each <= 0:
            raise ValueError("A run needs an area somewhere along it.")
        return Segment(start, end, self.volume / each, bulge=bulge, circle=circle)

    def receded(self, depth: float) -> Segment:
        """Return the segment after its skin went back by `depth` [mm] of metal; its length stays.

        What is left is the hull of what is left of its two ends. Between two shapes that takes a little more
        than the skin: 3 to 15 % more of what scale takes, which no scale is known to.
        """
        if depth <= 0:
            return self
        start, treatment = self.start.receded(depth), self.treatment.skinned(depth)
        if self.is_even:
            return replace(self, start=start, end=start, treatment=treatment)
        slim = replace(self, start=start, end=self.end.receded(depth), treatment=treatment)
        if self.bulge:
            wide = self.section_at(self.length / 2).receded(depth).width
            beyond = max(wide - (slim.start.width + slim.end.width) / 2, 0.0)
            slim = replace(slim, bulge=beyond / widening(1.0, 0.5, self.circle))
        return replace(slim, origin=self._origin_in(slim))

    def _origin_in(self, slim: Segment) -> tuple[Slice, ...]:
        """Return the origin by the volume shares of `slim`: the metal stays where it is along the bar.

        Scale takes a larger share of a thin end than of a thick one, so the shares do not move in proportion:
        in eight lengths of the segment they very nearly do.
        """
        whole, thin = self.volume, slim.volume
        if whole <= 0 or thin <= 0:
            return self.origin
        lengths = (self.length * part / _PARTS for part in range(1, _PARTS))
        fine = cut_at(self.origin, [self.volume_to(at) / whole for at in lengths])

        def moved(share: float) -> float:
            return slim.volume_to(self.at_volume(share * whole)) / thin

        return tuple(replace(one, low=moved(one.low), high=moved(one.high)) for one in fine)

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


def _other_hand(aside: tuple[float, float]) -> tuple[float, float]:
    return 0.0 - aside[0], aside[1]


def in_line(run: tuple[Segment, ...], along: tuple[float, float] | None) -> tuple[Segment, ...]:
    """Return a run with the segments that have no shift of their own lying along this one [mm]."""
    if along is None:
        return run
    return tuple(replace(one, shift=along) if one.shift is None else one for one in run)


def close(first: float, second: float) -> bool:
    """Whether two distances [mm] are the same place."""
    return math.isclose(first, second, rel_tol=0, abs_tol=TOUCH)
