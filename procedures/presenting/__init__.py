"""From a replay to what is shown: the one place where frames become words and numbers for people.

Pages, the shop card and the phone all take their texts from here, so that they cannot disagree.
"""

from .figures import Fact, Figure
from .findings import ShownFinding
from .parts import ShownMark, ShownOffcut, ShownPart
from .procedures import ShownProcedure, present
from .room import PHONE, SCREEN, Room
from .steps import FindPhoto, ShownStep

__all__ = [
    "PHONE",
    "SCREEN",
    "Fact",
    "Figure",
    "FindPhoto",
    "Room",
    "ShownFinding",
    "ShownMark",
    "ShownOffcut",
    "ShownPart",
    "ShownProcedure",
    "ShownStep",
    "present",
]
