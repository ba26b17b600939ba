"""Rules about whole procedures as pages show them."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.engine.judging.rule import Rule

from .findings import WORDS


@dataclass(frozen=True, slots=True)
class ShownRule:
    """A rule about a whole procedure."""

    code: str
    word: str
    title: str
    help: str
    source: str


def shown_rule(rule: Rule, units: UnitSystem) -> ShownRule:
    """Return a rule in the reader's units."""
    told = retold(rule.help, units), retold(rule.source, units)
    return ShownRule(rule.code, WORDS[rule.level], rule.title, *told)
