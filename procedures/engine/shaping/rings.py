"""Closed bars: laying a bar out as a ring or a link, and reading off how large it is."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from calculators.formulas.ring_blank import blank_length
from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import STRAIGHT, Arc, Plane
from procedures.engine.pieces.pose import Pose
from procedures.engine.pieces.segment import Segment

from .curving import depth, laid, neutral_depth


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle or, where `width` is given, a link with straight sides and that inside width [mm]."""

    plane: Plane
    sense: int
    width: float | None = None

    def side(self, length: float, section: Section) -> float:
        """Return how long each straight side is [mm] in a bar of a length; below 0 where it is too short."""
        if self.width is None:
            return 0.0
        return (length - blank_length(self.width, depth(section, self.plane))) / 2

    def inside(self, length: float, section: Section) -> float:
        """Return the inside diameter of a ring, or the inside length of a link [mm]."""
        if self.width is not None:
            return self.width + self.side(length, section)
        neutral = neutral_depth(section, self.plane, self.sense)
        return 2 * (length / math.tau - neutral)

    def laid_out(self, branch: Branch) -> Branch:
        """Return the branch along the closed line: it begins and ends in the middle of a bow."""
        whole = branch.length
        side = self.side(whole, branch.section_at(whole / 2))
        bows = whole - 2 * side
        radius = bows / math.tau
        plan = [(bows / 4, 90.0), (side, 0.0), (bows / 2, 180.0), (side, 0.0), (bows / 4, 90.0)]
        if self.width is None:
            plan = [(whole, 360.0)]
        segments: list[Segment] = []
        low = 0.0
        for length, angle in plan:
            if length > 0:
                path = Arc(radius, angle, self.plane, self.sense) if angle else STRAIGHT
                segments += laid(branch.segments_between(low, low + length), path)
            low += length
        return replace(branch, segments=tuple(segments))


def gap_between_ends(pose: Pose, name: str) -> float:
    """Return how far apart [mm] the two ends of a branch lie in space."""
    posed = pose.by_name[name]
    return math.dist(posed.start.origin, posed.end.origin)
