"""Mends: changes of a procedure that put a finding right, as plain values that one press applies.

All steps named are those of the part that the finding is found in. What a mend changes is the stored
document; the engine only says how.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from calculators.wording import Sentence

Side = Literal["before", "after"]


@dataclass(frozen=True, slots=True)
class MoveStep:
    """Put a step next to another, on that `side` of it."""

    step: str
    side: Side
    other: str


@dataclass(frozen=True, slots=True)
class InsertStep:
    """Put a new step next to another, on that `side` of it; parameters in their stored form."""

    operation: str
    side: Side
    other: str
    params: Mapping[str, Any] = field(default_factory=dict)
    heats: int = 0


@dataclass(frozen=True, slots=True)
class SetStep:
    """Give a step other values: parameters in their stored form, and fields such as `heats` and `tongs`.

    A parameter of None is taken away, and one that excludes another takes its place.
    """

    step: str
    params: Mapping[str, Any] = field(default_factory=dict)
    fields: Mapping[str, Any] = field(default_factory=dict)


Change = MoveStep | InsertStep | SetStep


@dataclass(frozen=True, slots=True)
class Mend:
    """Changes to be made together, in order, and what the button that makes them says."""

    label: Sentence
    changes: tuple[Change, ...]
