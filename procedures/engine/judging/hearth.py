"""How long a run of bar a fire makes hot at once."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

from procedures.engine.pieces.place import Span
from procedures.engine.scale import ScaleHabit

# mm, by the fire's id: a coal or coke fire heats 80 to 150 mm, a gas forge what lies in its chamber, a coil
# what is inside it. All from memory; a fire that is not known is taken for a coal fire.
HOT_LENGTH = {
    "average": 150.0,
    "coke": 150.0,
    "coal": 150.0,
    "gas": 250.0,
    "gas_lean": 250.0,
    "induction": 150.0,
}
SOURCE = "150 mm in coal or coke, 250 mm in a gas forge: from memory"
_TOUCH = 1.0  # mm: nobody tells so much hot bar from none


def hot_length(fire: ScaleHabit) -> float:
    """Return the length [mm] that a fire makes hot at once: the smith's own, or what such fires do."""
    if fire.hot_length is not None:
        return fire.hot_length
    return HOT_LENGTH.get(fire.fire, HOT_LENGTH["average"])


def heats_to_reach(spans: Iterable[Span], length: float) -> int:
    """Return how many heats of this length [mm] it takes to make every part of some ranges hot once.

    Counted on the branch that needs most, since planned heats are those of one member of a group.
    """
    reached: dict[str, float] = {}
    needed: dict[str, int] = {}
    for span in sorted(spans, key=lambda one: (one.branch, one.low)):
        begin = max(span.low, reached.get(span.branch, 0.0))
        left = span.high - begin - _TOUCH
        if left > 0:
            count = ceil(left / length)
            needed[span.branch] = needed.get(span.branch, 0) + count
            reached[span.branch] = begin + count * length
    return max(needed.values(), default=0)
