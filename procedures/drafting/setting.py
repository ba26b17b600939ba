"""Where a feature stands on the bar, and the steps it asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from calculators.sections import Section

PART = "piece"  # the key of the part that is drafted, and so the name of its bar
NEARLY = 1.02  # of an area, within which a section is reached without upsetting: from memory
End = Literal["", "start", "end"]


@dataclass(frozen=True)
class Work:
    """A step to be done. `part_of` says which of the feature's parameters each of the step's came from."""

    phase: int
    operation: str
    params: Mapping[str, Any]
    part_of: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Setting:
    """A feature's place: the `bar`, the section `root` it stands on, and the marks where it begins and ends.

    An empty mark is the end of the bar there. A feature that takes no bar has the run before it as `host`:
    its marks are the host's.
    """

    number: int
    bar: Section
    root: Section
    first: Section
    last: Section
    low: str = ""
    high: str = ""
    host: Setting | None = None
    host_is_fine: bool = False

    @property
    def end(self) -> End:
        """The end of the bar it is made of; "" where the bar goes on at both sides."""
        if not self.high:
            return "end"
        return "" if self.low else "start"

    @property
    def tip(self) -> Literal["start", "end"]:
        """The side that is the free end."""
        return "end" if not self.high else "start"

    def run(self) -> dict[str, Any]:
        """Return the range it lies on, as a stored place."""
        return between(self.low, self.high)

    def at(self, offset: float = 0.0) -> dict[str, Any]:
        """Return the point so far [mm] from where it begins, as a stored position."""
        more = {"offset": offset} if offset else {}
        if self.low:
            return {"on": PART, "datum": "mark", "mark": self.low, "toward": "end", **more}
        return {"on": PART, "datum": "start", **more}


def between(low: str, high: str) -> dict[str, Any]:
    """Return the range between two marks as a stored place; an empty mark is the end of the bar there."""
    if low and high:
        return {"on": PART, "datum": "between", "mark": low, "mark_to": high}
    if low:
        return {"on": PART, "datum": "mark", "mark": low, "toward": "end"}
    if high:
        return {"on": PART, "datum": "mark", "mark": high, "toward": "start"}
    return {"on": PART, "datum": "whole"}
