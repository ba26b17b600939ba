"""Every rule there is, and a replay as they judge it. A file in `rules/` is found by being there."""

from __future__ import annotations

import importlib
import pkgutil
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache

from calculators.wording import say
from procedures.engine import rules
from procedures.engine.finding import Finding, Level, note
from procedures.engine.frames import Flag, Frame, PartReplay, Replay
from procedures.engine.judging.rule import PartRule, Rule, registry
from procedures.engine.mend import Mend, SetStep
from procedures.engine.scale import ScaleHabit

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
    """Return a replay with what the rules find added to its frames, and what authors silenced marked so.

    A part that carries the flags of an earlier replay is not looked at again by rules for one part.
    """
    looked_at = [_looked_at(part, replayed.document.scale) for part in replayed.parts]
    flags: dict[tuple[str, str], list[Flag]] = defaultdict(list)
    given_way: dict[tuple[str, str], set[str]] = defaultdict(set)
    for code, rule in rulebook().items():
        kept = [flag for part in looked_at for flag in part.flags.get(code, ())]
        for flag in kept if isinstance(rule, PartRule) else rule.look(replayed):
            flags[flag.part, flag.step].append(flag)
            for step in (flag.step, *flag.also) if rule.instead_of else ():
                given_way[flag.part, step].update(rule.instead_of)
    parts = []
    for part in looked_at:
        keys = ((one, (part.part.key, one.key)) for one in part.frames)
        frames = (_judged(one, flags.get(key, ()), given_way.get(key, ())) for one, key in keys)
        parts.append(replace(part, frames=tuple(frames)))
    return replace(replayed, parts=tuple(parts))


def _looked_at(part: PartReplay, scale: ScaleHabit) -> PartReplay:
    """Return a part with the flags of the rules for one part."""
    if part.flags:
        return part
    rules = ((code, rule) for code, rule in rulebook().items() if isinstance(rule, PartRule))
    return replace(part, flags={code: tuple(rule.look_at(part, scale)) for code, rule in rules})


def _judged(frame: Frame, flags: Sequence[Flag], given_way: Collection[str]) -> Frame:
    """Return a frame with the flags at it; findings they say better give way."""
    if not flags and not frame.findings and not frame.step.silenced:
        return frame
    kept = [one for one in frame.findings if one.level == Level.STOP or one.code not in given_way]
    added = [replace(flag.finding, remedy=flag.mend) for flag in flags]
    found = tuple(_silenced(one, frame.step.silenced) for one in (*kept, *added))
    findings = (*found, *_silenced_in_vain(frame, found))
    if findings == frame.findings:
        return frame
    return replace(frame, findings=findings, own=frame.findings)


def _silenced(finding: Finding, reasons: Mapping[str, str]) -> Finding:
    reason = reasons.get(finding.code, "") if finding.level != Level.STOP else ""
    return replace(finding, silenced=reason) if reason else finding


def _silenced_in_vain(frame: Frame, findings: Sequence[Finding]) -> Iterator[Finding]:
    """Say which reasons silence nothing: those for a stop, and those for what is not found at a step."""
    levels = {one.code: one.level for one in findings}
    for code in frame.step.silenced:
        if levels.get(code) == Level.STOP:
            yield note(
                "step.silenced_stop",
                "A stop is never let stand; the reason given for {this} changes nothing.",
                this=code,
            )
    idle = {code: reason for code, reason in frame.step.silenced.items() if code not in levels}
    if idle and frame.status == "done":  # a step that is stopped may have more to say once it is not
        kept = {code: reason for code, reason in frame.step.silenced.items() if code in levels}
        found = note(
            "step.silenced_in_vain",
            "Let stand here, and not found at present: {reasons}",
            hint="It was put right since, or its code is mistyped.",
            reasons=" ".join(f"{reason} ({code})" for code, reason in idle.items()),
        )
        forgetting = SetStep(frame.key, fields={"silenced": kept})
        yield replace(found, remedy=Mend(say("Forget it"), (forgetting,)))
