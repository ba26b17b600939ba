"""Bars as they are sold: the usual sizes of hot-rolled bar, and how far from them a bar may be.

Sizes: the preferred sizes of EN 10058 (flat), EN 10059 (square), EN 10060 (round) and EN 10061 (hexagon), and
the usual sizes of American merchant bar, both from memory and no more than a list to choose from. Limit
deviations: the tables of EN 10058, EN 10059 and EN 10061 as the British Stainless Steel Association sums them
up; those of EN 10060, from memory, are the same as for a square where the two overlap.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from .sections import Section
from .units import to_house

Range = Literal["en", "us"]
LIMITS_SOURCE = (
    "EN 10058, 10059, 10061 as the British Stainless Steel Association sums them up; EN 10060 from memory"
)

_SQUARES = (8, 10, 12, 14, 15, 16, 18, 20, 22, 25, 28, 30, 32, 35, 40, 45, 50, 60, 70, 80, 100)
_ROUNDS = (8, 10, 12, 14, 15, 16, 18, 20, 22, 24, 25, 28, 30, 32, 35, 40, 45, 50, 60, 70, 80, 100)
_HEXAGONS = (
    13,
    14,
    15,
    16,
    17,
    18,
    19,
    20.5,
    22.5,
    23.5,
    25.5,
    28.5,
    31.5,
    33.5,
    35.5,
    37.5,
    39.5,
    42.5,
    47.5,
)
_WIDTHS = (10, 12, 15, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100)
_THICKNESSES = (5, 6, 8, 10, 12, 15, 20, 25, 30, 35, 40)
_US_SIZES = ("1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4", "7/8", "1", "5/4", "3/2", "7/4", "2")
_US_WIDTHS = ("1/2", "3/4", "1", "5/4", "3/2", "2", "5/2", "3", "4")
_US_THICKNESSES = ("1/8", "3/16", "1/4", "5/16", "3/8", "1/2", "5/8", "3/4", "1")

# (largest nominal size, limit deviation) in mm
_ACROSS = ((14.5, 0.4), (25.25, 0.5), (37.5, 0.6), (52, 0.8), (95, 1.0), (105, 1.3), (125, 1.5), (1e9, 1.8))
_HEX_ACROSS = ((15.5, 0.4), (24.5, 0.5), (34.5, 0.6), (49.75, 0.8), (80, 1.0), (100, 1.3), (1e9, 1.5))
_WIDE = ((40, 0.75), (80, 1.0), (100, 1.5), (120, 2.0), (1e9, 2.5))
_THICK = ((20, 0.5), (40, 1.0), (1e9, 1.5))


@dataclass(frozen=True, slots=True)
class StockBar:
    """A bar as it is sold, and the standard or custom it follows."""

    section: Section
    standard: str


def stock_bars(range_: Range) -> Iterator[StockBar]:
    """Yield the usual bars of a range: "en" in mm, "us" in inches."""
    if range_ == "us":
        yield from _us_bars()
        return
    yield from (StockBar(Section.square(one), "EN 10059") for one in _SQUARES)
    yield from (StockBar(Section.round(one), "EN 10060") for one in _ROUNDS)
    yield from (StockBar(Section.hexagon(one), "EN 10061") for one in _HEXAGONS)
    for thickness in _THICKNESSES:
        yield from (StockBar(Section.flat(w, thickness), "EN 10058") for w in _WIDTHS if w > 1.2 * thickness)


def _us_bars() -> Iterator[StockBar]:
    words = "US merchant bar"
    for text in _US_SIZES:
        yield StockBar(Section.square(_inches(text)), words)
        yield StockBar(Section.round(_inches(text)), words)
    for thin in _US_THICKNESSES:
        for wide in _US_WIDTHS:
            if _inches(wide) > 1.2 * _inches(thin):
                yield StockBar(Section.flat(_inches(wide), _inches(thin)), words)


def _inches(text: str) -> float:
    return to_house(float(Fraction(text)), "in")


def limits(section: Section) -> tuple[Section, Section] | None:
    """Return the smallest and largest that a rolled bar of this section may be; None where not known."""
    shape, sizes = section.shape, section.dimensions
    if shape == "flat":
        wide, thick = max(section.width, section.thickness), min(section.width, section.thickness)
        off = {"width": _off(_WIDE, wide), "thickness": _off(_THICK, thick)}
        if section.thickness > section.width:
            off = {"width": off["thickness"], "thickness": off["width"]}
    elif shape in ("square", "round", "hexagon"):
        name = next(iter(sizes))
        off = {name: _off(_HEX_ACROSS if shape == "hexagon" else _ACROSS, sizes[name])}
    else:
        return None
    if any(off[name] >= sizes[name] / 2 for name in sizes):
        return None  # no standard goes down to such a size
    least, most = (
        Section.from_json({"shape": shape, **{name: size + sign * off[name] for name, size in sizes.items()}})
        for sign in (-1, 1)
    )
    return least, most


def _off(table: tuple[tuple[float, float], ...], size: float) -> float:
    return next(off for most, off in table if size <= most)
