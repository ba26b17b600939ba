"""The same metal before and after a step, slice by slice: what each was and what it became."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from procedures.engine.pieces.metal import Run
from procedures.engine.pieces.segment import Segment

# Where along the volume of a run that is not even it is looked at, and the share each look stands for: six
# points by Gauss and Legendre, with which the strain of a point comes out 2 % low.
_LOOKS = tuple(
    (0.5 + side * place / 2, share / 2)
    for side, place, share in (
        (-1, 0.9324695142, 0.1713244924),
        (-1, 0.6612093865, 0.3607615730),
        (-1, 0.2386191861, 0.4679139346),
        (1, 0.2386191861, 0.4679139346),
        (1, 0.6612093865, 0.3607615730),
        (1, 0.9324695142, 0.1713244924),
    )
)
_EVEN = ((0.5, 1.0),)
_THIN = 0.3  # mm: thinner metal is a point
_TURNS = 2  # of Newton's rule to find the place of a slice


@dataclass(frozen=True, slots=True)
class Slice:
    """A share of the volume, before and after.

    `sizes` are width and thickness [mm] of the rectangle of the same area and proportions, `filled` how much
    of the rectangle round it is metal.
    """

    share: float
    sizes: tuple[float, float, float, float]
    filled: tuple[float, float]


def slices_of(before: Run, after: Run) -> tuple[Slice, ...]:
    """Return the metal of a run as slices, in order."""
    looks = _EVEN if _is_even(before) and _is_even(after) else _LOOKS
    first, second = _Sizes(before), _Sizes(after)
    found = []
    for place, share in looks:
        one, two = first.at(place), second.at(place)
        found.append(Slice(share, (*one[:2], *two[:2]), (one[2], two[2])))
    return tuple(found)


def _is_even(run: Run) -> bool:
    return len(run) == 1 and run[0].is_even


class _Sizes:
    """The width and thickness along a run, by the share of its volume that lies before."""

    def __init__(self, run: Run) -> None:
        self._run = [one for one in run if one.volume > 0]
        self._whole = sum(one.volume for one in self._run)
        self._place, self._before = 0, 0.0

    def at(self, share: float) -> tuple[float, float, float]:
        """Return the sizes and how full they are, at a share not less than the last one asked for."""
        volume = share * self._whole
        last = len(self._run) - 1
        while self._place < last and volume > self._before + self._run[self._place].volume:
            self._before += self._run[self._place].volume
            self._place += 1
        return _sizes(self._run[self._place], volume - self._before)


def _sizes(segment: Segment, volume: float) -> tuple[float, float, float]:
    start, end = segment.start, segment.end
    if segment.is_even:
        return _rectangle(start.width, start.thickness, start.area)
    if segment.bulge:
        at = segment.section_at(segment.length * volume / segment.volume)
        return _rectangle(at.width, at.thickness, at.area)
    middle = 3 * segment.volume / segment.length - start.area - end.area
    x = _fraction(start.area, middle, end.area, volume / segment.length)
    area = (1 - x) ** 2 * start.area + x * (1 - x) * middle + x * x * end.area
    width = start.width + (end.width - start.width) * x
    return _rectangle(width, start.thickness + (end.thickness - start.thickness) * x, area)


def _fraction(first: float, middle: float, last: float, volume: float) -> float:
    """Return the fraction of a taper's length within which a volume per length of it lies.

    Its area is (1-x)² A₀ + x (1-x) m + x² A₁.
    """
    whole = (first + middle + last) / 3
    x = _of_one_shape(sqrt(first), sqrt(last), volume / whole)
    for _ in range(_TURNS):
        area = (1 - x) ** 2 * first + x * (1 - x) * middle + x * x * last
        held = first * (1 - (1 - x) ** 3) / 3 + middle * (x * x / 2 - x**3 / 3) + last * x**3 / 3
        x = min(max(x - (held - volume) / max(area, 1e-6), 0.0), 1.0)
    return x


def _of_one_shape(first: float, last: float, share: float) -> float:
    """Return that fraction where both ends are of one shape, by their sides: exact then, else near."""
    if abs(first - last) < 1e-6 * first:
        return share
    side: float = (first**3 - share * (first**3 - last**3)) ** (1 / 3)
    return min(max((first - side) / (first - last), 0.0), 1.0)


def _rectangle(width: float, thickness: float, area: float) -> tuple[float, float, float]:
    """Return the sides [mm] of a rectangle of this area, and what share of width times thickness it is."""
    if width <= _THIN or thickness <= _THIN:
        return max(width, _THIN), max(thickness, _THIN), 1.0
    filled = area / (width * thickness) if area > 0 else 1.0
    side = sqrt(filled)
    return max(width * side, _THIN), max(thickness * side, _THIN), filled
