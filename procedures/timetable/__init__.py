"""A class at the forge: who works where and when, how long it must take, and what holds it up.

Pure: no Django. Times in minutes; those of a schedule begin when the showing ends. `plan` makes one from the
`StepTime` of each step and a `ClassShop`; `changes` says what another shop or class would gain.
"""

from .bounds import Bounds, bounds, cycle_minutes
from .changes import Change, changes, most_pieces, most_students
from .classes import HIGH, LOW, TYPICAL, ClassShop, Minutes, Planned, StepTime, plan
from .scheduling import Entry, Schedule, schedule
from .tasks import ANVIL, FORGE, HELPER, PLACES, POWER, TEACHER, VICE, NoSchedule, Task

__all__ = [
    "ANVIL",
    "FORGE",
    "HELPER",
    "HIGH",
    "LOW",
    "PLACES",
    "POWER",
    "TEACHER",
    "TYPICAL",
    "VICE",
    "Bounds",
    "Change",
    "ClassShop",
    "Entry",
    "Minutes",
    "NoSchedule",
    "Planned",
    "Schedule",
    "StepTime",
    "Task",
    "bounds",
    "changes",
    "cycle_minutes",
    "most_pieces",
    "most_students",
    "plan",
    "schedule",
]
