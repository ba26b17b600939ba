"""What a formula draws: strokes and sizes in one plane, in any one unit of length, Y upwards.

The functions that make figures are in `figures/`, a module for each kind of shape; how a figure looks on a
page is no business of theirs.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from calculators.wording import Sentence

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through spots, or an area round them.

    Of the kinds metal is filled and a hole is cut out of it, an outline is heavy, thin is light, dashed is
    what was before or is hidden.
    `colour` fills it with a look of its own, "#rrggbb".
    """

    kind: str
    spots: tuple[Spot, ...]
    closed: bool = False
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Size:
    """A size between two spots, said beside them; `away` is how far off [of the figure's longest side]."""

    first: Spot
    last: Spot
    words: Sentence | str
    away: float = 0.0


@dataclass(frozen=True, slots=True)
class Note:
    """Words at a spot, in the middle of them."""

    at: Spot
    words: Sentence | str


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing, and what it shows in words for who does not see it."""

    told: str
    strokes: tuple[Stroke, ...]
    sizes: tuple[Size, ...] = ()
    notes: tuple[Note, ...] = ()

    def spots(self) -> Iterable[Spot]:
        """Return every spot that must find room."""
        for stroke in self.strokes:
            yield from stroke.spots
        for size in self.sizes:
            yield size.first
            yield size.last
