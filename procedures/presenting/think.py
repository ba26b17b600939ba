"""Stop and think: what is read before a step is begun, on a screen of its own."""

from __future__ import annotations

import re
from dataclasses import dataclass

from procedures.engine.replay import Frame

from .findings import ShownFinding
from .steps import ShownStep

ALWAYS = ("always", "nearly always")
_ABOVE = re.compile(r"(?:above|more than) (\d+) (mm|kg)\b")
# True of all hot work: it stands with the tools, and stops nobody at each step.
_GUARD = re.compile(r"goggles|shield|mask\b|eyes covered|eye protection|eye, ear", re.IGNORECASE)
_EVERYWHERE = ("Scale flies: wear eye protection.",)
_LICENSED = re.compile(
    r"coded welder|licensed|for engineers|lifts or carries|lift, carry|own test", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why to stop: a word for it, and what to know."""

    word: str
    text: str


@dataclass(frozen=True, slots=True)
class Think:
    """All there is to read before a step: what the checks warn of, and why else to stop."""

    warnings: tuple[ShownFinding, ...]
    reasons: tuple[Reason, ...]


def think_of(step: ShownStep) -> Think | None:
    """Return what to read before a step, or None where there is nothing."""
    if step.status == "not_reached":
        return None
    reasons = tuple(_reasons(step))
    return Think(step.warnings, reasons) if step.warnings or reasons else None


def _reasons(step: ShownStep) -> list[Reason]:
    found = []
    if step.frame.welding_heats:
        heat = f"at {step.heat.degrees}, " if step.heat else ""
        found.append(
            Reason(
                "A welding heat",
                f"It is struck {heat}within a second or two of the fire. Flux, tools, helper and anvil are "
                "ready before the piece comes out.",
            )
        )
    if step.helper and (step.frame.welding_heats or needs_helper(step.frame)):
        found.append(Reason("A second person", f"{step.helper[:1].upper()}{step.helper[1:]}."))
    own = step.frame.step.kind.safety if step.frame.step.kind else ()
    for line, told in zip(own, step.safety, strict=True):
        if _LICENSED.search(line):
            found.append(Reason("Not yours to vouch for", told))
        elif _GUARD.search(line) and line not in _EVERYWHERE:
            found.append(Reason("Cover up", told))
    return found


def needs_helper(frame: Frame) -> bool:
    """Whether a step wants a second person: always, or for metal as heavy as its operation says."""
    helper = frame.step.kind.helper if frame.step.kind else ""
    if helper.startswith(ALWAYS):
        return True
    limit = _ABOVE.search(helper)
    if limit is None:
        return False
    least = float(limit[1])
    return frame.before.mass > least if limit[2] == "kg" else _thickest(frame) > least


def _thickest(frame: Frame) -> float:
    """Return the thickness of the thickest metal that a step works, as it finds it [mm]."""
    sections = (end for metal in frame.found for one in metal.run for end in (one.start, one.end))
    return max((min(one.width, one.thickness) for one in sections), default=0.0)
