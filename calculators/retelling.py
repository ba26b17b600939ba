"""Words written with metric sizes, told in the reader's units: help, safety lines, sources and the like."""

from __future__ import annotations

import re

from .number_texts import SPACE
from .wording import UnitSystem

_METRIC = re.compile(r"(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? (mm|°C|kg)(?!\w|[²³/])(?: \([^()]* in\))?")


def retold(text: str, units: UnitSystem) -> str:
    """Return a text with the lengths, heats and weights written in it in the reader's units.

    What stands in metric stays as it is for a metric reader; inches told in brackets after a size go.
    """
    return _METRIC.sub(lambda found: _said_again(found, units), text) if units.id != "metric" else text


def _said_again(found: re.Match[str], units: UnitSystem) -> str:
    say_it = {"mm": units.length, "°C": units.temperature, "kg": units.mass}[found[3]]
    last = say_it(float(found[2] or found[1]))
    if not found[2]:
        return last
    first, unit = say_it(float(found[1])), last.rpartition(SPACE)[2]
    return f"{first.removesuffix(SPACE + unit)} to {last}"
