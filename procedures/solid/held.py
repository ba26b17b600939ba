"""What a fitting holds: the sections of all the bars that lie there."""

from __future__ import annotations

import numpy as np

from calculators.sections import Section
from procedures.engine.pieces.axes import Axes
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.pose import Pose, PosedBranch

from .contours import Array
from .walk import in_space


def bundle_of(pose: Pose, posed: PosedBranch, one: Feature, joint: Joint | None) -> tuple[Section, Axes]:
    """Return the outline of all that is held at a feature, and the place in the middle of it."""
    axes = posed.axes_at(one.at)
    if joint is None or len(joint.places) < 2:
        return posed.branch.section_at(one.at), axes
    spots = spots_of(pose, posed, one, joint) - np.array(axes.origin)
    across, up = spots @ np.array(axes.left), spots @ np.array(axes.up)
    section = Section.flat(float(np.ptp(across)), float(np.ptp(up)))
    return section, axes.moved(0.0, float(across.max() + across.min()) / 2, float(up.max() + up.min()) / 2)


def spots_of(pose: Pose, posed: PosedBranch, one: Feature, joint: Joint | None) -> Array:
    """Return the corners in space of the sections of all that a feature holds."""
    own = Point(posed.branch.name, one.at)
    others = [place for place in joint.places if place.branch != own.branch] if joint else []
    spots = []
    for place in (own, *others):
        there = pose.by_name[place.branch]
        section = there.branch.section_at(place.at)
        spots.append(in_space(there.axes_at(place.at), np.array(section.outline(8))))
    return np.concatenate(spots)
