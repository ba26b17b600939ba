"""Where a plate of words goes on a photo: inside it, and on top of as little as can be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

Spot = tuple[float, float]
MARGIN = 6.0  # units of the drawing, to the edge of the photo
SHIFT_COST = 60.0  # what a plate pushed in by one unit costs, in covered area


@dataclass(frozen=True)
class Box:
    """A box by its middle, half its width and half its height."""

    x: float
    y: float
    wide: float
    high: float

    @property
    def left(self) -> float:
        """Its left edge."""
        return self.x - self.wide

    @property
    def top(self) -> float:
        """Its upper edge."""
        return self.y - self.high

    def overlap(self, other: Box) -> float:
        """Return the area common to both."""
        across = min(self.x + self.wide, other.x + other.wide) - max(self.left, other.left)
        down = min(self.y + self.high, other.y + other.high) - max(self.top, other.top)
        return max(across, 0.0) * max(down, 0.0)

    def inside(self, size: Spot) -> Box:
        """Return the box pushed into a photo of this size; in the middle of one that is too small for it."""
        return replace(self, x=_within(self.x, self.wide, size[0]), y=_within(self.y, self.high, size[1]))


def placed(wanted: Sequence[Box], taken: Sequence[Box], size: Spot) -> Box:
    """Return the best of the boxes wanted, the earlier rather than the later, pushed into the photo."""
    shown = [(one.inside(size), one) for one in wanted]
    return min(shown, key=lambda pair: _cost(pair[0], pair[1], taken))[0]


def _cost(box: Box, wanted: Box, taken: Sequence[Box]) -> float:
    pushed = abs(box.x - wanted.x) + abs(box.y - wanted.y)
    return sum(box.overlap(one) for one in taken) + pushed * SHIFT_COST


def _within(middle: float, half: float, whole: float) -> float:
    least, most = half + MARGIN, whole - half - MARGIN
    return min(max(middle, least), most) if least <= most else whole / 2
