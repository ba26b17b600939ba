"""Re-planning in the reader's units: what was measured, as typed, and what it makes of the rest, as texts.

The site and the phone beside the forge call this same code, the phone without the site. A request:

    {"document": a stored procedure, "part": its key, "nominal": bool, "units": "metric" | "inch",
     "measured": [{"step": key, "kind": "run" | "whole", "branch", "length": typed, "section": typed}, ...]}

and what comes back (texts in the reader's units, and numbers in mm beside those that are compared):

    {"faults": [{"index", "field": "length" | "section", "message"}],
     "coming": [SIZE, ...], "finished": [SIZE, ...],
     "findings": [{"step", "level", "text", "hint"}],
     "ways": [{"id", "said", "finished": [SIZE, ...], "stops": [text, ...], "near": bool}, ...], best first}

    SIZE  {"step": number or 0 for the finished piece, "label", "planned", "now": text or null,
           "planned_mm", "now_mm": number or null, "near": bool, "section": {"planned", "now"} or null}

What was typed wrong is told as a fault and left out of the reckoning.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators import typed
from calculators.sections import Section
from calculators.typed import TypedError
from calculators.wording import UNIT_SYSTEMS, UnitSystem

from .engine.document import read
from .engine.finding import Finding
from .engine.frames import Frame, PartReplay, Replay
from .engine.replan import Gauge, Kind, Measured, Size, gauges, outlook
from .engine.replay import replay
from .engine.ways_back import Way, best_first, ways

MOST_MEASURED = 200
LONGEST = 60  # letters of a size as typed


@dataclass(frozen=True, slots=True)
class Asked:
    """What can be measured after a step: its kind, branch and a label, with what the plan says it is."""

    kind: str
    branch: str
    label: str
    length: str
    section: str  # "" where it is not of one section


class Planner:
    """A procedure planned once, to be re-planned as often as something is measured."""

    def __init__(self, stored: Any, *, nominal: bool = False, units: str = "metric") -> None:
        """Raises DocumentError where the document does not read."""
        self.planned: Replay = replay(read(stored, draft=True), nominal=nominal)
        self.units: UnitSystem = UNIT_SYSTEMS[units]

    def asked(self, part: str) -> dict[str, list[Asked]]:
        """Return what can be measured after every step of a part, by the key of the step."""
        found = self.planned.part(part)
        return {one.key: asked_of(one, self.units) for one in found.frames} if found else {}

    def answer(self, part: str, measured: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
        """Return what becomes of a part after what was measured; see the module."""
        if self.planned.part(part) is None:
            raise KeyError(part)
        read_ones, faults = _read_all(measured, self.units)
        seen = outlook(self.planned, part, read_ones)
        several = len(seen.planned.final.branches) > 1
        return {
            "faults": faults,
            "coming": [self._size(one, seen.planned, several) for one in seen.coming],
            "finished": [self._size(one, seen.planned, several) for one in seen.finished],
            "findings": [self._finding(number, one) for number, one in seen.new_findings],
            "ways": self._ways(part, read_ones, several),
        }

    def _ways(self, part: str, measured: Sequence[Measured], several: bool) -> list[dict[str, Any]]:
        if not measured:
            return []
        found = best_first(list(ways(self.planned, part, measured)))
        return [self._way(one, several) for one in found]

    def _way(self, way: Way, several: bool) -> dict[str, Any]:
        return {
            "id": way.id,
            "said": way.said.text(self.units),
            "finished": [self._size(one, way.replayed, several) for one in way.finished],
            "stops": [one.message.text(self.units) for one in way.stops],
            "near": way.miss == 0,
        }

    def _size(self, size: Size, part: PartReplay, several: bool) -> dict[str, Any]:
        return {
            "step": size.step,
            "label": _label(size.kind, size.name, several=several),
            "planned": self.units.length(size.planned),
            "now": None if size.now is None else self.units.length(size.now),
            "planned_mm": round(size.planned, 6),
            "now_mm": None if size.now is None else round(size.now, 6),
            "near": size.is_near,
            "section": self._sections(size.planned_section, size.section),
        }

    def _sections(self, planned: Section | None, now: Section | None) -> dict[str, str] | None:
        if planned is None or now is None:
            return None
        return {"planned": self.units.section(planned), "now": self.units.section(now)}

    def _finding(self, number: int, finding: Finding) -> dict[str, Any]:
        return {
            "step": number,
            "level": str(finding.level),
            "text": finding.message.text(self.units),
            "hint": finding.hint.text(self.units) if finding.hint else "",
        }


def replanned(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return the answer to one request; see the module. Raises DocumentError; KeyError for no part."""
    units, nominal = request.get("units", "metric"), bool(request.get("nominal"))
    planner = Planner(request["document"], nominal=nominal, units=units)
    return planner.answer(request["part"], request.get("measured", []))


def asked_of(frame: Frame, units: UnitSystem) -> list[Asked]:
    """Return what can be measured after a step, in the reader's units."""
    several = len(frame.after.branches) > 1
    bent = {
        one.name for one in frame.after.branches if any(run.path.kind != "straight" for run in one.segments)
    }
    return [_asked(one, units, several=several, bent=one.branch in bent) for one in gauges(frame)]


def _asked(gauge: Gauge, units: UnitSystem, *, several: bool, bent: bool) -> Asked:
    section = units.section(gauge.section) if gauge.section else ""
    label = _label(gauge.kind, gauge.branch, several=several)
    if bent and gauge.kind == "whole":
        label += ", along its middle"  # not as a rule laid beside it would have it
    return Asked(gauge.kind, gauge.branch, label, units.length(gauge.length), section)


def _label(kind: str, name: str, *, several: bool) -> str:
    """Return what is measured, in words: "Worked part", "Whole length of arm", "Mark A"."""
    if kind == "mark":
        return f"Mark {name}"
    what = "Worked part" if kind == "run" else "Whole length"
    return f"{what} of {name}" if several else what


# -- reading what was typed --------------------------------------------------------------------------


def _read_all(
    measured: Iterable[Mapping[str, Any]], units: UnitSystem
) -> tuple[list[Measured], list[dict[str, Any]]]:
    found: list[Measured] = []
    faults: list[dict[str, Any]] = []
    for index, one in enumerate(measured):
        if index >= MOST_MEASURED:
            message = f"At most {MOST_MEASURED} measurements are reckoned with."
            faults.append({"index": index, "field": "length", "message": message})
            break
        sizes: dict[str, Any] = {}
        for name, parse in (("length", typed.parse_length), ("section", typed.parse_section)):
            try:
                sizes[name] = _read(one.get(name), parse, units)
            except TypedError as error:
                faults.append({"index": index, "field": name, "message": str(error)})
        if any(sizes.values()):
            kind: Kind = "whole" if one.get("kind") == "whole" else "run"
            found.append(Measured(str(one.get("step")), kind, str(one.get("branch")), **sizes))
    return found, faults


def _read(text: Any, parse: Any, units: UnitSystem) -> Any:
    """Return the size that was typed, None for nothing. Raises TypedError."""
    said = "" if text is None else str(text).strip()
    if not said:
        return None
    if len(said) > LONGEST:
        raise TypedError(f"This is {len(said)} characters long; a size has at most {LONGEST}.")
    return parse(said, units.length_unit)
