"""What a piece that was forged tells of a shop, and what all of somebody's pieces there come to.

Pure: no database. Predicted is what the replay and the heat plan say in the shop as it is now, by nobody's
pace; planned heats are their author's.
"""

from .expected import Expected, expected
from .lessons import Lessons, scale_as_learnt
from .pieces import Forged, Learnt, in_the_fire, readings

__all__ = [
    "Expected",
    "Forged",
    "Learnt",
    "Lessons",
    "expected",
    "in_the_fire",
    "readings",
    "scale_as_learnt",
]
