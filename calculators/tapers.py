"""Volumes of the metal between two cross-sections a length apart: exact, with the inverse.

The solid is the convex hull of its two end sections: at fraction x of the length the section is the blend
(1-x)·start + x·end, so A(x) = (1-x)²A₀ + 2x(1-x)M + x²A₁ with M the mixed area, and the volume is a cubic in
x. Derived; identical to the prismatoid rule. See `generators` for M.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calculators.sections import Section

_ENOUGH = 1e-16  # of the whole length: below what a double can tell apart


def taper_volume(start: Section, end: Section, length: float) -> float:
    """Return the volume [mm³] of a taper from start to end over a length [mm]: L (A₀ + M + A₁) / 3."""
    if start == end:
        return length * start.area
    return length * (start.area + start.mixed_area(end) + end.area) / 3


def taper_volume_to(start: Section, end: Section, length: float, x: float) -> float:
    """Return the volume [mm³] between the start and the fraction x (0..1) of the length [mm]."""
    if start == end:
        return length * start.area * x
    mixed = start.mixed_area(end)
    left = 1 - x
    from_start = start.area * (1 - left * left * left) + mixed * x * x * (3 - 2 * x) + end.area * x * x * x
    return length * from_start / 3


def taper_fraction_of_volume(start: Section, end: Section, share: float) -> float:
    """Return the fraction of the length, 0..1, by which a share (0..1) of the taper's volume is reached.

    Raises ValueError when the share is not within 0..1.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"A share of the volume lies between 0 and 1; {share!r} does not.")
    first, mixed, last = start.area, start.mixed_area(end), end.area
    total = first + mixed + last
    even = first == mixed == last
    if even or total <= 0 or share in (0, 1):
        return share
    # The nearer end is solved for, so a point at the far end (where the volume is flat) loses no figures.
    if share <= 0.5:
        return _root(first, mixed, last, share * total)
    return 1 - _root(last, mixed, first, (1 - share) * total)


def taper_length(start: Section, end: Section, volume: float) -> float:
    """Return the length [mm] of a taper from start to end that holds a volume [mm³].

    Raises ValueError when neither end has an area.
    """
    thirds = start.area + start.mixed_area(end) + end.area
    if thirds <= 0:
        raise ValueError("A taper needs an area at one end at least: both its ends have none.")
    return 3 * volume / thirds


def _root(first: float, mixed: float, last: float, wanted: float) -> float:
    """Return the x in 0..1 with 3A₀x + 3(M-A₀)x² + (A₀-2M+A₁)x³ = wanted, by Newton inside a bracket."""
    linear, square, cube = 3 * first, 3 * (mixed - first), first - 2 * mixed + last
    low, high = 0.0, 1.0
    x = wanted / (first + mixed + last)
    for _ in range(200):
        miss = x * (linear + x * (square + x * cube)) - wanted
        if miss == 0:
            return x
        if miss > 0:
            high = x
        else:
            low = x
        slope = linear + x * (2 * square + 3 * x * cube)
        step = x - miss / slope if slope > 0 else low
        following = step if low < step < high else (low + high) / 2
        if abs(following - x) <= _ENOUGH + 2e-16 * x or following in (low, high):
            return following
        x = following
    return x
