"""Pins through holes: tenons and rivets, the metal of their heads, and how they fit hot and cold."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from calculators.formulas.rivet_head import HEADS, head_volume
from calculators.formulas.thermal_expansion import elongation
from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.feature import Feature
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.segment import TOUCH

from .checks import STEP
from .halves import end_taken_off
from .holes import Hole, free_names

HOT = 1000.0  # °C of a rivet as it is set hot: common practice, no source
HEAD_TITLES = {key: one.title for key, one in HEADS.items()}
_SAME = 0.15  # of its area by which a pin may vary along its length, as scale leaves it: our judgement


@dataclass(frozen=True, slots=True)
class Pin:
    """A pin: its section, and how long it is from its end to the shoulder [mm]."""

    section: Section
    length: float


@dataclass(frozen=True, slots=True)
class Heading:
    """A pin through a hole and a grip [mm], and what stands out [mm] to be headed in a form of HEADS."""

    pin: Section
    hole: Section
    grip: float
    standing: float
    form: str

    @property
    def diameter(self) -> float:
        """The diameter of the round with the pin's area [mm]."""
        return math.sqrt(4 * self.pin.area / math.pi)

    @property
    def metal(self) -> float:
        """What stands out [mm³]."""
        return self.pin.area * self.standing

    @property
    def filling(self) -> float:
        """What swells into the hole [mm³]."""
        return max(self.grip * (self.hole.area - self.pin.area), 0.0)

    @property
    def head(self) -> float:
        """What is left for the head [mm³]; below 0 where the hole takes more than stands out."""
        return self.metal - self.filling

    @property
    def full(self) -> float:
        """The metal of a full head [mm³]."""
        return head_volume(self.diameter, HEADS[self.form].shank)

    @property
    def wanted(self) -> float:
        """How much ought to stand out for a full head [mm]."""
        return (self.full + self.filling) / self.pin.area

    @property
    def size(self) -> tuple[float, float]:
        """The head as it comes out: across and high [mm]."""
        return HEADS[self.form].sizes(self.diameter, self.head)

    @property
    def clearance(self) -> float:
        """How much wider the hole is than the pin, cold [mm], where there is least room."""
        return clearance(self.hole, self.pin)

    @property
    def clearance_hot(self) -> float:
        """The same with the pin hot and the hole cold [mm]."""
        return clearance(self.hole, self.pin.scaled(1 + elongation(HOT)))


def clearance(hole: Section, pin: Section) -> float:
    """Return how much wider a hole is than a pin [mm] where there is least room; below 0 it sticks."""
    if hole.shape == "round":
        return hole.width - 2 * max(math.hypot(y, z) for y, z in pin.outline())
    holes, pins = (sorted((one.width, one.thickness)) for one in (hole, pin))
    return min(holes[0] - pins[0], holes[1] - pins[1])


def tenon_at_start(branch: Branch) -> Pin | None:
    """Return the pin at the start of a branch, up to its shoulder; None where no shoulder stands out."""
    if not branch.segments:
        return None
    pin, length = branch.segments[0].start, 0.0
    for segment in branch.segments:
        if not _alike(segment.start, pin):
            return Pin(pin, length) if segment.start.area > (1 + STEP) * pin.area else None
        if not _alike(segment.end, pin):
            return Pin(pin, length) if segment.end.area > (1 + STEP) * pin.area else None
        length += segment.length
    return None


def _alike(section: Section, pin: Section) -> bool:
    return pin.area > 0 and abs(section.area - pin.area) <= _SAME * pin.area


def headed(other: Piece, key: str, heading: Heading) -> Piece:
    """Return a part with what stands out of its tenon, at its start, made into a head."""
    root = other.root
    shorter = end_taken_off(root, "start", heading.standing)
    across, high = heading.size
    (name,) = free_names(root, f"{key} head", 1)
    metal = root.volume - shorter.volume  # of the head, and of what swells into the hole
    made = Feature("head", name, 0.0, "round", high, across, metal, depth=high)
    other = other.with_branch(replace(shorter, features=(*shorter.features, made)))
    return other.carrying(root.name, lambda at: max(at - heading.standing, 0.0))


def with_rivet(piece: Piece, point: Point, heading: Heading) -> Piece:
    """Return the piece with a loose rivet: its shank, the head it came with and the one made, received."""
    (name,) = free_names(piece.branch(point.branch), "rivet", 1)
    across, high = heading.size
    metal = heading.pin.area * (heading.grip + heading.standing) + heading.full
    made = Feature("rivet", name, point.at, "round", across, across, metal, depth=high)
    return replace(piece.featured(point.branch, made), received=piece.received + metal)


def hole_at(branch: Branch, at: float) -> Feature | None:
    """Return the hole at a place of a branch, or None; of several the one whose middle is nearest."""
    holes = [
        one
        for one in branch.features
        if one.is_hole and one.kind != "slit" and abs(one.at - at) <= one.length / 2 + TOUCH
    ]
    return min(holes, key=lambda one: abs(one.at - at), default=None)


def only_hole(branch: Branch) -> Feature | None:
    """Return the hole of a branch that has just one, or None."""
    holes = [one for one in branch.features if one.is_hole and one.kind != "slit"]
    return holes[0] if len(holes) == 1 else None


def outline(hole: Feature) -> Section:
    """Return the outline of a hole as a section."""
    return _as_hole(hole).section


def depth(branch: Branch, hole: Feature) -> float:
    """Return how deep a hole goes through its bar [mm]."""
    return _as_hole(hole).through(branch.section_at(hole.at))


def _as_hole(hole: Feature) -> Hole:
    return Hole(hole.shape, hole.length, hole.width, hole.face)
