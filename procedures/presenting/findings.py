"""Findings as pages and cards show them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.engine.finding import Finding, Level

WORDS = {Level.STOP: "Stop", Level.CAUTION: "Caution", Level.NOTE: "Note"}


@dataclass(frozen=True, slots=True)
class ShownFinding:
    """One finding in the reader's units; `anchor` and `number` are those of its step."""

    level: str
    word: str
    code: str
    text: str
    hint: str
    source: str
    field: str
    anchor: str
    number: int
    silenced: str = ""  # why the author lets it stand
    href: str = ""
    about: str = ""


def shown_finding(finding: Finding, anchor: str, number: int, units: UnitSystem) -> ShownFinding:
    """Return a finding of the step of this anchor and number."""
    return ShownFinding(
        level=str(finding.level),
        word=WORDS[finding.level],
        code=finding.code,
        text=retold(finding.message.text(units), units),
        hint=retold(finding.hint.text(units), units) if finding.hint else "",
        source=retold(finding.source, units),
        field=finding.field,
        anchor=anchor,
        number=number,
        silenced=finding.silenced,
    )


def counted(findings: Iterable[Finding]) -> dict[str, int]:
    """Return how many findings there are of each level, silenced ones not: {"stop": 0, "caution": 2, ...}."""
    counts = Counter(one.level for one in findings if not one.silenced)
    return {str(level): counts[level] for level in Level}
