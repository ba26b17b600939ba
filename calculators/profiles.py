"""Tapers whose sides are hollow or swelled: exact volume, and the even runs they are told in.

At fraction x of its length from the thick end the section is the blend (1-f)·thick + f·thin of its two ends,
with f = x + 4 b x (1-x): so much nearer to the thin end is it half way than a straight taper. `bow` b > 0 is
hollow, b < 0 swelled. With A(f) = (1-f)²A₀ + 2f(1-f)M + f²A₁ the volume is a closed form in b. Derived.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil, sqrt
from typing import TYPE_CHECKING

from calculators.roots import rising_root
from calculators.tapers import taper_volume

if TYPE_CHECKING:
    from calculators.sections import Section

MOST_BOW = 0.2  # beyond a quarter the taper would first get thicker than its end
SMOOTH = 0.02  # mm that a side may lie beside the true curve, so that marks lie within a tenth


def profile_volume(thick: Section, thin: Section, length: float, bow: float) -> float:
    """Return the volume [mm³] of a taper from thick to thin over a length [mm], so much hollow."""
    c = 4 * bow
    once, square = 1 / 2 + c / 6, 1 / 3 + c / 6 + c * c / 30  # the means of f and of f²
    mixed = thick.mixed_area(thin)
    bent = thick.area - 2 * mixed + thin.area
    return length * (thick.area + 2 * (mixed - thick.area) * once + bent * square)


def profile_parts(thick: Section, thin: Section, bow: float) -> int:
    """Return in how many even runs of one length such a taper keeps within SMOOTH of its true curve."""
    sizes = max(thick.width - thin.width, thick.thickness - thin.thickness, 0.0) / 2
    return max(ceil(sqrt(abs(bow) * sizes / SMOOTH)), 2) if bow else 1


def profile_sections(thick: Section, thin: Section, bow: float) -> tuple[Section, ...]:
    """Return the sections at the ends of the even runs, from the thick end to the thin one.

    They lie so little off the true curve that the runs together hold just its volume.
    """
    parts = profile_parts(thick, thin, bow)
    if parts == 1:
        return thick, thin
    wanted = profile_volume(thick, thin, parts, bow)
    sign = 1 if bow > 0 else -1

    def at_bow(much: float) -> tuple[Section, ...]:
        shares = [one / parts for one in range(1, parts)]
        inner = (thick.blend(thin, x + 4 * sign * much * x * (1 - x)) for x in shares)
        return thick, *inner, thin

    def held(much: float) -> float:
        return -sign * sum(taper_volume(one, two, 1.0) for one, two in pairwise(at_bow(much)))

    return at_bow(rising_root(held, -sign * wanted, 0.0, 0.25))
