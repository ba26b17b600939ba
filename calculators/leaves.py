"""Volumes of the metal between two cross-sections whose width bulges between them, as in a leaf: exact.

At fraction x of the length the section is the blend of the two ends made wider by 4·b·x·(1-x), so both sides
of the outline are parabolas and b is how much wider than the blend it is in the middle. Widening a convex
section adds its thickness times the width, and the thickness changes evenly, so

    A(x) = A_taper(x) + 4·b·x·(1-x)·t(x)        V = V_taper + L·b·(t₀ + t₁)/3

with t₀ and t₁ the thickness of the ends. Derived; a leaf between two upright edges of one thickness holds
⅔ of its greatest width times its thickness times its length. A part of such a run is one again: between x₀
and x₁ its own bulge is b·(x₁-x₀)².
"""

from __future__ import annotations

from math import sqrt

from calculators.roots import rising_root
from calculators.sections import Section, taper_volume, taper_volume_to


def leaf_volume(start: Section, end: Section, length: float, bulge: float) -> float:
    """Return the volume [mm³] of a run of a length [mm] between two sections, with a bulge [mm]."""
    return taper_volume(start, end, length) + length * bulge * (start.thickness + end.thickness) / 3


def leaf_volume_to(start: Section, end: Section, length: float, bulge: float, x: float) -> float:
    """Return the volume [mm³] between the start and the fraction x (0..1) of the length [mm]."""
    first, growth = start.thickness, end.thickness - start.thickness
    even, growing = x * x * (1 / 2 - x / 3), x * x * x * (1 / 3 - x / 4)
    return taper_volume_to(start, end, length, x) + 4 * bulge * length * (first * even + growth * growing)


def leaf_fraction_of_volume(start: Section, end: Section, bulge: float, share: float) -> float:
    """Return the fraction of the length, 0..1, by which a share (0..1) of the volume is reached.

    Raises ValueError when the share is not within 0..1.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"A share of the volume lies between 0 and 1; {share!r} does not.")
    if share in (0, 1):
        return float(share)
    whole = leaf_volume_to(start, end, 1.0, bulge, 1.0)
    return rising_root(lambda x: leaf_volume_to(start, end, 1.0, bulge, x) / whole, share, 0.0, 1.0)


def widest_at(start: Section, end: Section, bulge: float) -> float:
    """Return the fraction of the length, 0..1, at which the run is widest."""
    if bulge <= 0:
        return 0.0 if start.width >= end.width else 1.0
    return min(max(1 / 2 + (end.width - start.width) / (8 * bulge), 0.0), 1.0)


def bulge_for(start: float, end: float, widest: float) -> float:
    """Return the bulge [mm] that makes a run between two widths [mm] come to a greatest width [mm].

    2√b = √(widest - start) + √(widest - end): the outline is one parabola on both sides of its summit.

    Raises ValueError where an end is wider than the widest place.
    """
    if widest < max(start, end):
        raise ValueError(f"The widest place, {widest:g} mm, is narrower than an end, {max(start, end):g} mm.")
    roots = sqrt(widest - start) + sqrt(widest - end)
    return roots * roots / 4
