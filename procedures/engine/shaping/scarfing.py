"""Scarfs: ends that slope on one face, and finding again which face that is."""

from __future__ import annotations

from math import atan2, degrees
from typing import Literal

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.segment import Segment

Face = Literal["up", "down", "left", "right"]
FACES = {
    "up": "its upper face",
    "down": "its under face",
    "left": "its left edge",
    "right": "its right edge",
}
OPPOSITE: dict[Face, Face] = {"up": "down", "down": "up", "left": "right", "right": "left"}
_LEAST = 0.01  # mm: less lean than this is no scarf


def leaning(root: Section, lip: Section, length: float, face: Face) -> Segment:
    """Return a scarf from the bar outwards that slopes on one face: the face across from it stays level."""
    down, aside = (root.thickness - lip.thickness) / 2, (root.width - lip.width) / 2
    lean = {"up": (0.0, -down), "down": (0.0, down), "left": (-aside, 0.0), "right": (aside, 0.0)}[face]
    return Segment(root, lip, length, lean=lean)


def scarfed_face(branch: Branch, end: End) -> Face | None:
    """Return the face that slopes at an end of a branch, or None where that end is not scarfed."""
    if not branch.segments:
        return None
    segment = branch.segments[-1 if end == "end" else 0]
    left, up = segment.lean if end == "end" else (-segment.lean[0], -segment.lean[1])
    if max(abs(left), abs(up)) < _LEAST:
        return None
    if abs(up) >= abs(left):
        return "up" if up < 0 else "down"
    return "left" if left < 0 else "right"


def slope(deep: float, lip: float, length: float) -> float:
    """Return the angle [deg] of a slope from a depth to a lip over a length [mm]."""
    return degrees(atan2(deep - lip, length))
