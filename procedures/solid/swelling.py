"""Where a branch stands wider or narrower than its segments: round a punched hole, beside a groove."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from calculators.generators import DISC, Weights
from calculators.sections import Section
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.pose import PosedBranch

from .openings import groove_dip, hole_volume, is_turned
from .walk import wider

_STEPS = 8  # rings on each side of the middle
_SHARES = 200  # parts that what lies under a swelling is summed in


@dataclass(frozen=True)
class Swelling:
    """Metal that stands out by `high` mm in the middle and by nothing `wide` mm from there."""

    at: float
    wide: float
    high: float
    on_edge: bool

    def on(self, at: float, section: Weights) -> Weights:
        """Return a section as it is with the swelling."""
        off = abs(at - self.at)
        if off >= self.wide:
            return section
        return wider(section, self.high * _shape(off / self.wide), on_edge=self.on_edge)

    @property
    def places(self) -> list[float]:
        """Where rings have to stand for it [mm]."""
        return [self.at + self.wide * step / _STEPS for step in range(-_STEPS, _STEPS + 1)]


@dataclass(frozen=True)
class Waist:
    """A groove all round a round bar."""

    groove: Feature

    def on(self, at: float, section: Weights) -> Weights:
        """Return a section as it is in the groove."""
        dip = groove_dip(self.groove, at - self.groove.at)
        weights = list(section)
        weights[DISC] = max(weights[DISC] - dip, 0.0)
        w = weights
        return w[0], w[1], w[2], w[3], w[4], w[5], w[6], w[7]

    @property
    def places(self) -> list[float]:
        """Where rings have to stand for it [mm]."""
        half, steps = self.groove.length / 2, 2 * _STEPS
        return [self.groove.at + half * math.cos(math.pi * step / steps) for step in range(steps + 1)]


def changes_of(posed: PosedBranch) -> Iterator[Swelling | Waist]:
    """Yield what changes the sections of a branch beside their segments."""
    for one in posed.branch.features:
        if one.is_hole:
            yield from _round_hole(posed, one)
        elif one.kind == "groove" and is_turned(posed, one):
            yield Waist(one)
        elif one.kind == "groove" and one.bulge > 0:
            yield _at_groove(posed, one)


def _round_hole(posed: PosedBranch, one: Feature) -> Iterator[Swelling]:
    """Yield the boss that holds the metal which was pushed aside: what the hole takes less what is gone."""
    section = posed.branch.section_at(one.at)
    there = Section(wider(section.g, max(one.bulge, 0.0), on_edge=one.face == "edge"))
    metal = hole_volume(one, there) + one.volume
    through = section.thickness if one.face == "flat" else section.width
    if metal <= 0.01 * through:
        return
    room = max(min(one.at, posed.branch.length - one.at), one.length / 2)
    # As far out as the bar is said to stand; where it is said to be narrower, a little longer than the hole.
    wide = metal / (through * one.bulge) if one.bulge > 0 else 1.25 * one.length
    wide = min(max(wide, 0.75 * one.length), 3 * one.length, room)
    yield Swelling(one.at, wide, metal / (through * wide), one.face == "edge")


def _at_groove(posed: PosedBranch, one: Feature) -> Swelling:
    """Return how the bar spreads where a groove is pressed in: it holds the metal the ledger says."""
    section = posed.branch.section_at(one.at)
    spread = one.bulge * (section.area * one.length + one.volume) / (one.width + one.bulge)
    wide = min(0.75 * one.length, one.at, posed.branch.length - one.at)
    sides = 2 if one.side in ("both", "all") else 1
    through = section.thickness if one.face == "flat" else section.width
    held = 0.0
    for step in range(_SHARES):
        off = wide * (step + 0.5) / _SHARES
        held += 2 * (through - sides * groove_dip(one, off)) * _shape(off / wide) * wide / _SHARES
    return Swelling(one.at, wide, spread / held, one.face == "edge")


def _shape(share: float) -> float:
    return (1 + math.cos(math.pi * share)) / 2
