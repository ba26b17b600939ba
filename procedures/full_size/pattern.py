"""A pattern at full size: lines, arcs and words on layers, in mm, Y upwards, and what it is a pattern of."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Literal

from calculators.wording import UnitSystem
from procedures.drawing.lettering import spaced, width_of

Layer = Literal["outline", "centre", "marks", "text"]
LAYERS: tuple[Layer, ...] = ("outline", "centre", "marks", "text")
Spot = tuple[float, float]  # mm
Box = tuple[float, float, float, float]  # least x and y, most x and y [mm]

FINE = 0.005  # mm: how far a chord on paper may miss an arc
LETTER = 3.2  # mm: what is read with the pattern lying on the anvil
SMALL = 2.6
TITLE = 4.5
_RISE, _DROP = 0.75, 0.22  # of the letter size: how far letters stand over and under their line


@dataclass(frozen=True, slots=True)
class Line:
    """A line through spots; `dashed` where it is not to be cut or struck along."""

    layer: Layer
    spots: tuple[Spot, ...]
    closed: bool = False
    dashed: bool = False
    filled: bool = False

    def moved(self, x: float, y: float) -> Line:
        """Return it so much further [mm]."""
        return replace(self, spots=tuple((a + x, b + y) for a, b in self.spots))


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, anticlockwise from `start` to `end` in degrees; 360 apart it is the whole circle."""

    layer: Layer
    centre: Spot
    radius: float
    start: float = 0.0
    end: float = 360.0
    dashed: bool = False

    @property
    def is_circle(self) -> bool:
        """Whether it goes all the way round."""
        return self.end - self.start >= 360 - 1e-9

    def at(self, degrees: float) -> Spot:
        """Return the spot on it in a direction from its centre."""
        turn = math.radians(degrees)
        return (
            self.centre[0] + self.radius * math.cos(turn),
            self.centre[1] + self.radius * math.sin(turn),
        )

    @property
    def spots(self) -> tuple[Spot, ...]:
        """Spots on it so close that chords between them miss it by FINE at most."""
        sweep = self.end - self.start
        step = 2 * math.acos(max(1 - FINE / self.radius, 0.0)) if self.radius > FINE else math.pi
        count = max(math.ceil(math.radians(sweep) / step), 1)
        return tuple(self.at(self.start + sweep * index / count) for index in range(count + 1))

    def moved(self, x: float, y: float) -> Arc:
        """Return it so much further [mm]."""
        return replace(self, centre=(self.centre[0] + x, self.centre[1] + y))


@dataclass(frozen=True, slots=True)
class Words:
    """Words on one line, of this letter `size` [mm], `turned` so many degrees anticlockwise."""

    words: str
    at: Spot
    size: float = LETTER
    anchor: Literal["start", "middle", "end"] = "start"
    turned: float = 0.0
    strong: bool = False
    layer: Layer = "text"

    def __post_init__(self) -> None:
        """Take out what the drawing's font has no letter for."""
        object.__setattr__(self, "words", spaced(self.words))

    @property
    def spots(self) -> tuple[Spot, ...]:
        """The corners of the box that holds them."""
        wide = width_of(self.words, self.size)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[self.anchor]
        turn = math.radians(self.turned)
        cos, sin = math.cos(turn), math.sin(turn)
        x, y = self.at
        return tuple(
            (x + a * cos - b * sin, y + a * sin + b * cos)
            for a in (left, left + wide)
            for b in (-_DROP * self.size, _RISE * self.size)
        )

    def moved(self, x: float, y: float) -> Words:
        """Return them so much further [mm]."""
        return replace(self, at=(self.at[0] + x, self.at[1] + y))


Item = Line | Arc | Words


@dataclass(frozen=True)
class Pattern:
    """One thing to print at full size. `key` is unique within its part at its stage.

    `chosen` says whether it is printed unless the reader says otherwise. `stacked` gives a long one as
    several shorter ones, none wider than so many mm, broken where that does no harm.
    """

    key: str
    title: str
    lead: str
    items: tuple[Item, ...]
    chosen: bool = True
    stacked: Callable[[float], tuple[Pattern, ...]] | None = None

    @property
    def box(self) -> Box:
        """What holds all of it."""
        return box_of(spot for one in self.items for spot in one.spots)

    @property
    def width(self) -> float:
        """How wide it is [mm]."""
        low, _, high, _ = self.box
        return high - low

    @property
    def height(self) -> float:
        """How high it is [mm]."""
        _, low, _, high = self.box
        return high - low


@dataclass(frozen=True, slots=True)
class Whose:
    """The part that patterns are of: its key, its name as it may be drawn, and the reader's units."""

    part: str
    name: str
    units: UnitSystem


def box_of(spots: Iterable[Spot]) -> Box:
    """Return what holds all spots; of none, nothing at 0."""
    found = list(spots) or [(0.0, 0.0)]
    xs, ys = [x for x, _ in found], [y for _, y in found]
    return min(xs), min(ys), max(xs), max(ys)


def cross(at: Spot, arm: float, layer: Layer = "centre") -> tuple[Line, Line]:
    """Return the two strokes of a cross, each reaching `arm` mm from its middle."""
    x, y = at
    return Line(layer, ((x - arm, y), (x + arm, y))), Line(layer, ((x, y - arm), (x, y + arm)))


def headed(items: Iterable[Item], title: str, notes: Iterable[str]) -> tuple[Item, ...]:
    """Return items with a title and notes over them, flush with their left side."""
    drawn = tuple(items)
    low, _, _, top = box_of(spot for one in drawn for spot in one.spots)
    lines = [Words(title, (low, 0.0), TITLE, strong=True), *(Words(one, (low, 0.0), SMALL) for one in notes)]
    y = top + 3.0
    placed: list[Item] = []
    for one in reversed(lines):
        y += _DROP * one.size
        placed.insert(0, one.moved(0.0, y))
        y += (_RISE + 0.25) * one.size
    return (*placed, *drawn)


__all__ = [
    "LAYERS",
    "LETTER",
    "SMALL",
    "TITLE",
    "Arc",
    "Box",
    "Item",
    "Layer",
    "Line",
    "Pattern",
    "Spot",
    "Whose",
    "Words",
    "box_of",
    "cross",
    "headed",
]
