"""What a step is struck with: the shop's hammer where it is for such work, else the hand hammer."""

from __future__ import annotations

import re

from procedures.engine.frames import Frame
from procedures.engine.judging.deeds import family

from .profile import Hammer, ShopProfile

USUAL_POWER = 162.0  # J: an air hammer of 25 kg used at 60 % of its 270 J (from memory)
_SPARINGLY = re.compile(r"\b(only|light)\b")  # what a power tool is said to be good for


def can_be_powered(frame: Frame) -> bool:
    """Whether a step's metal can be moved under a power hammer: by a tool for more than a light blow."""
    tools = frame.step.kind.power_tools if frame.step.kind else ()
    return family(frame) == "move" and any(not _SPARINGLY.search(one) for one in tools)


def hammer_for(frame: Frame, profile: ShopProfile) -> Hammer:
    """Return what a step is struck with."""
    suits = {
        "power": can_be_powered(frame),
        "striker": bool(frame.step.kind and frame.step.kind.helper),
        "hand": True,
    }
    found = profile.used if suits[profile.hammer] else profile.hammer_called("hand")
    assert found is not None  # every shop has a hand hammer
    return found
