"""Every rule there is, and a replay as they judge it. A file in `rules/` is found by being there."""

from __future__ import annotations

import importlib
import pkgutil
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache

from procedures.engine import rules
from procedures.engine.finding import Finding, Level
from procedures.engine.frames import Frame, Replay
from procedures.engine.judging.rule import Flag, Rule, registry

SUBJECTS = {
    "order": "What comes before what",
    "holding": "What it is held by",
    "access": "Room for the tool",
    "heat": "Heats",
    "weld": "Welds",
    "gate": "Where to measure",
    "group": "Pairs",
    "mark": "Marks",
    "metal": "Metal",
}


@cache
def rulebook() -> dict[str, Rule]:
    """Return all rules by code, in the order of their codes."""
    for module in pkgutil.iter_modules(rules.__path__):
        importlib.import_module(f"{rules.__name__}.{module.name}")
    return {code: registry[code]() for code in sorted(registry)}


def judged(replayed: Replay) -> Replay:
    """Return a replay with what the rules find added to its frames, and what authors silenced marked so."""
    flags: dict[tuple[str, str], list[tuple[Rule, Flag]]] = defaultdict(list)
    for rule in rulebook().values():
        for flag in rule.look(replayed):
            flags[flag.part, flag.step].append((rule, flag))
    answered = {code for rule in rulebook().values() for code in rule.takes_over}
    parts = []
    for part in replayed.parts:
        found = [flags.get((part.part.key, one.key), ()) for one in part.frames]
        frames = (_judged(*pair, answered) for pair in zip(part.frames, found, strict=True))
        parts.append(replace(part, frames=tuple(frames)))
    return replace(replayed, parts=tuple(parts))


def _judged(frame: Frame, flags: Iterable[tuple[Rule, Flag]], answered: set[str]) -> Frame:
    """Return a frame with the flags at it; findings they say better, or answer for, give way."""
    flags = tuple(flags)
    given_way = answered.union(*(rule.instead_of for rule, _ in flags))
    kept = [one for one in frame.findings if one.level == Level.STOP or one.code not in given_way]
    added = [replace(flag.finding, remedy=flag.mend) for _, flag in flags]
    findings = tuple(_silenced(one, frame.step.silenced) for one in (*kept, *added))
    if findings == frame.findings:
        return frame
    return replace(frame, findings=findings, own=frame.findings)


def _silenced(finding: Finding, reasons: Mapping[str, str]) -> Finding:
    reason = reasons.get(finding.code, "") if finding.level != Level.STOP else ""
    return replace(finding, silenced=reason) if reason else finding
