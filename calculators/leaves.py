"""Volumes of the metal between two cross-sections whose width bulges between them: leaves and discs, exact.

At fraction x of the length the section is the blend of the two ends made wider by b·e(x). Both sides of a
leaf are parabolas: e = 4x(1-x), and b is how much wider than the blend it is in the middle. Those of a disc
are arcs of a circle of diameter b: of the part from u₀ to u₁ (0 to 1 along the diameter) of its outline
c(u) = 2√(u(1-u)), e is what goes beyond the chord. Widening a convex section adds its thickness times the
width, and the thickness changes evenly, so

    A(x) = A_taper(x) + b·e(x)·t(x)        V = V_taper + L·b·∫ e·t dx

which for a leaf is V_taper + L·b·(t₀ + t₁)/3, with t₀ and t₁ the thickness of the ends. Derived; a leaf
between two upright edges of one thickness holds ⅔ of its greatest width times its thickness times its length.
A part of such a run is one again: of a leaf between x₀ and x₁ the bulge is b·(x₁-x₀)², of a disc it stays.
"""

from __future__ import annotations

from math import acos, cos, sin, sqrt

from calculators.roots import rising_root
from calculators.sections import Section, taper_volume, taper_volume_to

Circle = tuple[float, float]  # the part of a circle that an outline follows, as two fractions of its diameter


def widening(bulge: float, x: float, circle: Circle | None = None) -> float:
    """Return how much wider [mm] than the blend of its ends a run is at the fraction x of its length."""
    if circle is None:
        return 4 * bulge * x * (1 - x)
    low, high = circle
    beyond = _chord(low + (high - low) * x) - (1 - x) * _chord(low) - x * _chord(high)
    return bulge * max(beyond, 0.0)


def mean_widening(bulge: float, circle: Circle | None = None) -> float:
    """Return how much wider [mm] than the blend of its ends a run is in the mean over its length."""
    return bulge * _held(1.0, 0.0, 1.0, circle)


def leaf_volume(
    start: Section, end: Section, length: float, bulge: float, circle: Circle | None = None
) -> float:
    """Return the volume [mm³] of a run of a length [mm] between two sections, with a bulge [mm]."""
    held = _held(start.thickness, end.thickness - start.thickness, 1.0, circle)
    return taper_volume(start, end, length) + length * bulge * held


def leaf_volume_to(
    start: Section, end: Section, length: float, bulge: float, x: float, circle: Circle | None = None
) -> float:
    """Return the volume [mm³] between the start and the fraction x (0..1) of the length [mm]."""
    held = _held(start.thickness, end.thickness - start.thickness, x, circle)
    return taper_volume_to(start, end, length, x) + length * bulge * held


def leaf_fraction_of_volume(
    start: Section, end: Section, bulge: float, share: float, circle: Circle | None = None
) -> float:
    """Return the fraction of the length, 0..1, by which a share (0..1) of the volume is reached.

    Raises ValueError when the share is not within 0..1.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"A share of the volume lies between 0 and 1; {share!r} does not.")
    if share in (0, 1):
        return float(share)
    whole = leaf_volume_to(start, end, 1.0, bulge, 1.0, circle)
    return rising_root(lambda x: leaf_volume_to(start, end, 1.0, bulge, x, circle) / whole, share, 0.0, 1.0)


def widest_at(start: Section, end: Section, bulge: float, circle: Circle | None = None) -> float:
    """Return the fraction of the length, 0..1, at which the run is widest."""
    if bulge <= 0:
        return 0.0 if start.width >= end.width else 1.0
    if circle is not None:
        summit = (0.5 - circle[0]) / (circle[1] - circle[0])
    else:
        summit = 1 / 2 + (end.width - start.width) / (8 * bulge)
    return min(max(summit, 0.0), 1.0)


def part_of_circle(circle: Circle, x: float) -> tuple[Circle, Circle]:
    """Return the parts of a circle on either side of the fraction x of the length."""
    middle = circle[0] + (circle[1] - circle[0]) * x
    return (circle[0], middle), (middle, circle[1])


def round_circle(circle: Circle, share: float) -> float:
    """Return the fraction of the length reached by a share (0..1) of the turn along a circle's outline."""
    low, high = (acos(1 - 2 * end) for end in circle)
    return ((1 - cos(low + (high - low) * share)) / 2 - circle[0]) / (circle[1] - circle[0])


def bulge_for(start: float, end: float, widest: float) -> float:
    """Return the bulge [mm] that makes a leaf between two widths [mm] come to a greatest width [mm].

    2√b = √(widest - start) + √(widest - end): the outline is one parabola on both sides of its summit.

    Raises ValueError where an end is wider than the widest place.
    """
    if widest < max(start, end):
        raise ValueError(f"The widest place, {widest:g} mm, is narrower than an end, {max(start, end):g} mm.")
    roots = sqrt(widest - start) + sqrt(widest - end)
    return roots * roots / 4


def _held(first: float, growth: float, x: float, circle: Circle | None) -> float:
    """Return ∫ e·t from 0 to x, for a thickness that is `first` [mm] and grows by `growth` to the end."""
    if circle is None:
        return 4 * (first * x * x * (1 / 2 - x / 3) + growth * x * x * x * (1 / 3 - x / 4))
    low, high = circle
    span, here = high - low, low + (high - low) * x
    plain, weighted = (one - two for one, two in zip(_under(here), _under(low), strict=True))
    arc = ((first - growth * low / span) * plain + growth / span * weighted) / span
    one, more = _chord(low), _chord(high) - _chord(low)
    return arc - one * x * (first + growth * x / 2) - more * x * x * (first / 2 + growth * x / 3)


def _chord(u: float) -> float:
    return 2 * sqrt(max(u * (1 - u), 0.0))


def _under(u: float) -> tuple[float, float]:
    """Return ∫ c du and ∫ u c du from 0 to u."""
    turn = acos(min(max(1 - 2 * u, -1.0), 1.0))
    plain = (turn - sin(turn) * cos(turn)) / 4
    return plain, plain / 2 - sin(turn) ** 3 / 12
