"""What the checks say: stops, cautions and notes, each with a code that never changes."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from string import Formatter
from typing import Any

from calculators.wording import METRIC, Sentence, UnitSystem, say


class Level(StrEnum):
    """How much a finding matters. A stop ends the replay at its step; the others never do."""

    STOP = "stop"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a check has to say about one step.

    `field` names the parameter it is about, `hint` a way on, `source` where the rule comes from, and
    `mend` the parameter values that would put it right when there is one clear way.
    """

    level: Level
    code: str
    message: Sentence
    hint: Sentence | None = None
    field: str = ""
    source: str = ""
    mend: Mapping[str, Any] = dataclasses.field(default_factory=dict)

    def on_field(self, name: str) -> Finding:
        """Return the same finding, said of the parameter `name` unless it names one already."""
        return self if self.field else replace(self, field=name)

    def text(self, units: UnitSystem = METRIC) -> str:
        """Return the message, with its hint, in the reader's units."""
        parts = [self.message.text(units)]
        if self.hint:
            parts.append(self.hint.text(units))
        return " ".join(parts)


class Unworkable(Exception):
    """Raised where the piece does not allow what was asked; carries the finding that says why."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.text())
        self.finding = finding


def _finding(
    level: Level,
    code: str,
    message: str,
    hint: str = "",
    field: str = "",
    source: str = "",
    mend: Mapping[str, Any] | None = None,
    **values: Any,
) -> Finding:
    return Finding(
        level=level,
        code=code,
        message=_sentence(message, values),
        hint=_sentence(hint, values) if hint else None,
        field=field,
        source=source,
        mend=mend or {},
    )


def _sentence(template: str, values: Mapping[str, Any]) -> Sentence:
    fields = {name for _, name, _, _ in Formatter().parse(template) if name}
    return say(template, **{name: value for name, value in values.items() if name in fields})


def stop(code: str, message: str, **rest: Any) -> Finding:
    """Return a finding that ends the replay here. `rest`: hint, field, source, mend and the values named."""
    return _finding(Level.STOP, code, message, **rest)


def caution(code: str, message: str, **rest: Any) -> Finding:
    """Return a finding that warns of a risk. `rest` as for `stop`."""
    return _finding(Level.CAUTION, code, message, **rest)


def note(code: str, message: str, **rest: Any) -> Finding:
    """Return a finding that is only worth knowing. `rest` as for `stop`."""
    return _finding(Level.NOTE, code, message, **rest)
