"""Heats in words: their colour by name and in the reader's degrees, and how many are planned."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from calculators.formulas.heat_colour import chapman_name
from calculators.glow import glow_hex
from calculators.number_texts import SPACE
from calculators.wording import UnitSystem
from procedures.engine.replay import Frame


@dataclass(frozen=True, slots=True)
class ShownHeat:
    """A range of heat: the name of its colour, its degrees, and how its two ends look on a screen."""

    name: str
    degrees: str
    color: str
    color_to: str


@cache  # a few dozen ranges are all there are
def heat_of(heat: tuple[float, float], units: UnitSystem) -> ShownHeat:
    """Return the heat of a range [°C]."""
    low, high = heat
    names = [chapman_name(low), chapman_name(high)]
    name = names[0] if names[0] == names[1] else " to ".join(names)
    first, last = units.temperature(low), units.temperature(high)
    degrees = f"{first.split(SPACE)[0]}–{last}" if low < high else last
    return ShownHeat(name, degrees, glow_hex(low), glow_hex(high))


def planned(frame: Frame) -> str:
    """Return the planned heats of a step: "2 heats for each of 3 = 6", "1 welding heat", or ""."""
    said = []
    if frame.step.heats:
        each = _counted(frame.step.heats, "heat")
        said.append(f"{each} for each of {frame.members} = {frame.heats}" if frame.members > 1 else each)
    if frame.welding_heats:
        said.append(_counted(frame.welding_heats, "welding heat"))
    return " and ".join(said)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
