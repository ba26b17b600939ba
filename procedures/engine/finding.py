"""What the checks say: stops, cautions and notes, each with a code that never changes."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from string import Formatter
from typing import Any

from calculators.wording import METRIC, Sentence, UnitSystem, say

from .mend import Mend, SetStep


class Level(StrEnum):
    """How much a finding matters. A stop ends the replay at its step; the others never do."""

    STOP = "stop"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a check has to say about one step.

    `field` names the parameter it is about, `hint` a way on, `source` where the rule comes from. Where there
    is one clear way to put it right, `mend` holds the parameter values of its own step that do, or `remedy`
    the changes of the whole part. `silenced` is why an author lets a caution or a note stand. `enough_heats`
    are the heats with which it is no longer so; 0 where heats do not help.
    """

    level: Level
    code: str
    message: Sentence
    hint: Sentence | None = None
    field: str = ""
    source: str = ""
    mend: Mapping[str, Any] = dataclasses.field(default_factory=dict)
    remedy: Mend | None = None
    silenced: str = ""
    enough_heats: int = 0

    @property
    def can_be_mended(self) -> bool:
        """Whether one press puts it right."""
        return bool(self.mend) or self.remedy is not None

    def mending(self, step: str) -> Mend | None:
        """Return the changes that put it right, found at the step of this key; None where no one way does."""
        if self.remedy is not None or not self.mend:
            return self.remedy
        return Mend(say("Mend it"), (SetStep(step, params=self.mend),))

    def holds_with(self, heats: int) -> bool:
        """Whether it is still so where this many heats are planned for the step."""
        return not self.enough_heats or heats < self.enough_heats

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
    enough_heats: int = 0,
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
        enough_heats=enough_heats,
    )


def _sentence(template: str, values: Mapping[str, Any]) -> Sentence:
    parsed = [(before, name) for before, name, _, _ in Formatter().parse(template) if name]
    used = {name: values[name] for _, name in parsed if name in values}
    before, first = parsed[0] if parsed else ("", "")
    if not before and str(used.get(first, "")).startswith(("the ", "a ")):
        words = str(used[first])  # such as "the bar", where it begins the sentence
        used[first] = words[0].upper() + words[1:]
    return say(template, **used)


def stop(code: str, message: str, **rest: Any) -> Finding:
    """Return a finding that ends the replay here. `rest`: as `Finding` has it, and the values named."""
    return _finding(Level.STOP, code, message, **rest)


def caution(code: str, message: str, **rest: Any) -> Finding:
    """Return a finding that warns of a risk. `rest` as for `stop`."""
    return _finding(Level.CAUTION, code, message, **rest)


def note(code: str, message: str, **rest: Any) -> Finding:
    """Return a finding that is only worth knowing. `rest` as for `stop`."""
    return _finding(Level.NOTE, code, message, **rest)
