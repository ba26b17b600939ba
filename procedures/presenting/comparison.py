"""Two versions side by side, step by step: what was given, what comes out, and the words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from calculators.wording import UnitSystem
from procedures.comparing import DETAILS, PartPair, StepPair, differing, pair_parts
from procedures.engine.catalogue import find
from procedures.engine.document import HEATED, LEVELS, LICENCES, Document
from procedures.engine.finding import Unworkable
from procedures.engine.parameters.params import ParamError
from procedures.engine.replay import replay

from .figures import Figure
from .given import said
from .parts import ShownPart
from .procedures import ShownProcedure
from .steps import ShownStep

NONE = "none"
STATE_WORDS = {"same": "", "changed": "Changed", "added": "Added", "removed": "Removed"}
WORDS = {"tongs": "Tongs", "note": "Note"}
COUNTS = {"heats": "Heats", "welding_heats": "Welding heats"}


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """One thing in both versions, as texts; "" where it is not there."""

    label: str
    old: str
    new: str
    kind: str = "given"  # "given", "result" or "words"


@dataclass(frozen=True)
class ComparedStep:
    """One step in both versions."""

    pair: StepPair
    old: ShownStep | None
    new: ShownStep | None

    @property
    def title(self) -> str:
        """What it is, in both where they differ."""
        titles = [one.title for one in (self.old, self.new) if one]
        return " becomes ".join(dict.fromkeys(titles))

    @property
    def where(self) -> str:
        """Its number in both versions."""
        if self.old is None or self.new is None:
            return f"Step {(self.old or self.new).number}"  # type: ignore[union-attr]
        both = (self.old.number, self.new.number)
        return f"Step {both[0]}" if both[0] == both[1] else f"Step {both[0]}, now {both[1]}"

    @property
    def tags(self) -> list[str]:
        """What became of it, in words."""
        tags = [STATE_WORDS[self.pair.state]] + (["Moved"] if self.pair.moved else [])
        follows = not any(tags) and self.rows
        return [one for one in tags if one] + (["Comes out otherwise"] if follows else [])

    @cached_property
    def rows(self) -> tuple[ComparedRow, ...]:
        """What differs of it: what was given, then what comes of that, then the words."""
        same = self.pair.state == "same" and self.old and self.new
        if same and self.old.frame.after is self.new.frame.after:  # type: ignore[union-attr]
            return ()  # replayed once for both
        rows = [*self._given(), *self._results(), *self._words()]
        return tuple(one for one in rows if one.old != one.new)

    @property
    def is_same(self) -> bool:
        """Whether there is nothing to tell of it."""
        return self.pair.is_same and not self.rows

    def _given(self) -> Iterator[ComparedRow]:
        for name in dict.fromkeys([*_params(self.pair.old), *_params(self.pair.new)]):
            label = _label(self.new or self.old, name)
            yield ComparedRow(label, _told(self.old, name), _told(self.new, name))
        for name, label in COUNTS.items():
            old, new = (str(one.get(name) or NONE) if one else "" for one in self._stored)
            yield ComparedRow(label, old, new)
        yield ComparedRow("Heated", _heated(self.old), _heated(self.new))

    def _results(self) -> Iterator[ComparedRow]:
        old, new = ({row.label: row for row in one.figures} if one else {} for one in self._both)
        for label in dict.fromkeys([*old, *new]):
            yield ComparedRow(f"{label} after it", _after(old.get(label)), _after(new.get(label)), "result")
        if self.old and self.new:
            states = [one.status.replace("_", " ") for one in (self.old, self.new)]
            yield ComparedRow("The step is", states[0], states[1], "result")

    def _words(self) -> Iterator[ComparedRow]:
        told = [_words(step, stored) for step, stored in zip(self._both, self._stored, strict=True)]
        for label in told[0]:
            yield ComparedRow(label, told[0][label], told[1][label], "words")

    @property
    def _both(self) -> tuple[ShownStep | None, ShownStep | None]:
        return self.old, self.new

    @property
    def _stored(self) -> tuple[Mapping[str, Any] | None, Mapping[str, Any] | None]:
        return self.pair.old, self.pair.new


@dataclass(frozen=True)
class ComparedPart:
    """One part in both versions; `state` is that of the whole part."""

    pair: PartPair
    rows: tuple[ComparedRow, ...]
    steps: tuple[ComparedStep, ...]

    @property
    def key(self) -> str:
        """Its key, which is the same in both."""
        return str((self.pair.new or self.pair.old or {})["key"])

    @property
    def name(self) -> str:
        """Its name."""
        return str((self.pair.new or self.pair.old or {})["name"])

    @property
    def state(self) -> str:
        """Whether it came, went or is in both, in a word."""
        return "Added" if self.pair.old is None else "Removed" if self.pair.new is None else ""

    @cached_property
    def differing(self) -> tuple[ComparedStep, ...]:
        """The steps there is something to tell of."""
        return tuple(one for one in self.steps if not one.is_same)

    @property
    def same(self) -> int:
        """How many steps are the same in both."""
        return len(self.steps) - len(self.differing)


@dataclass(frozen=True)
class Comparison:
    """Two versions held against each other: `rows` of the whole, then part by part."""

    rows: tuple[ComparedRow, ...]
    parts: tuple[ComparedPart, ...] = field(default=())

    @property
    def is_same(self) -> bool:
        """Whether there is nothing to tell."""
        return not self.rows and not any(one.rows or one.state or one.differing for one in self.parts)

    @property
    def counts(self) -> dict[str, int]:
        """How many steps were changed, added, removed and moved, those without any left out."""
        pairs = [one.pair for part in self.parts for one in part.steps]
        told = {state: sum(one.state == state for one in pairs) for state in ("changed", "added", "removed")}
        told["moved"] = sum(one.moved for one in pairs)
        return {state: count for state, count in told.items() if count}


def compare(
    old: tuple[Mapping[str, Any], Document],
    new: tuple[Mapping[str, Any], Document],
    units: UnitSystem,
    *,
    nominal: bool = False,
) -> Comparison:
    """Return two versions side by side; each is given stored and as it was read.

    What both have in common from their beginning on is replayed once.
    """
    first = replay(old[1], nominal=nominal)
    second = replay(new[1], nominal=nominal, earlier=first)
    shown = [ShownProcedure(one, units) for one in (first, second)]
    parts = tuple(
        _part(pair, [one.part((pair.new or pair.old or {})["key"]) for one in shown], units)
        for pair in pair_parts(old[0], new[0])
    )
    rows = [_detail(name, old[0], new[0], units) for name in differing(old[0], new[0], DETAILS)]
    return Comparison((*rows, *_totals(shown[0].totals, shown[1].totals)), parts)


def _part(pair: PartPair, shown: list[ShownPart | None], units: UnitSystem) -> ComparedPart:
    old, new = ({one.key: one for one in part.steps} if part else {} for part in shown)
    steps = tuple(
        ComparedStep(
            one, old.get(one.old["key"]) if one.old else None, new.get(one.new["key"]) if one.new else None
        )
        for one in pair.steps
    )
    before, after = shown
    rows: list[ComparedRow] = []
    if before and after:
        rows = [
            ComparedRow("Name", before.name, after.name),
            ComparedRow("How many", str(before.quantity), str(after.quantity)),
            ComparedRow("Material", before.material, after.material),
            ComparedRow("Bar", before.stock, after.stock),
            *_totals(before.totals, after.totals),
            *_totals(before.finished, after.finished, "Length of {} in the end"),
        ]
    return ComparedPart(pair, tuple(one for one in rows if one.old != one.new), steps)


def _totals(old: Any, new: Any, label: str = "{}") -> list[ComparedRow]:
    """Return the facts that differ, in the order of the first."""
    texts = [{one.label: f"{one.value} {one.unit}".strip() for one in facts} for facts in (old, new)]
    return [
        ComparedRow(label.format(name), texts[0].get(name, ""), texts[1].get(name, ""), "result")
        for name in dict.fromkeys([*texts[0], *texts[1]])
        if texts[0].get(name) != texts[1].get(name)
    ]


def _detail(name: str, old: Mapping[str, Any], new: Mapping[str, Any], units: UnitSystem) -> ComparedRow:
    label = "Fire" if name == "scale" else name.capitalize()
    texts = [_detail_text(name, one.get(name), units) for one in (old, new)]
    return ComparedRow(label, texts[0], texts[1], "words")


def _detail_text(name: str, value: Any, units: UnitSystem) -> str:
    if name == "level":
        return LEVELS.get(value or "beginner", str(value))
    if name == "licence":
        return LICENCES.get(value or "CC-BY-4.0", str(value))
    if name == "credits":
        return "; ".join(value or ())
    if name == "scale":
        told = {
            key: units.length(one) if isinstance(one, float | int) else str(one)
            for key, one in (value or {}).items()
        }
        return "; ".join(f"{key.replace('_', ' ')} {one}" for key, one in told.items()) or "as usual"
    return str(value or "")


def _params(step: Mapping[str, Any] | None) -> Mapping[str, Any]:
    return step.get("params", {}) if step else {}


def _label(step: ShownStep | None, name: str) -> str:
    kind = find(step.frame.step.operation) if step else None
    param = kind.params().get(name) if kind else None
    return param.label if param else name


def _told(step: ShownStep | None, name: str) -> str:
    """Return the value of a parameter in words; one that does not read is shown as it is stored."""
    if step is None or name not in step.frame.step.params:
        return ""
    stored = step.frame.step.params[name]
    kind = step.frame.step.kind
    param = kind.params().get(name) if kind else None
    if param is None:
        return str(stored)
    try:
        return said(param, param.read(stored), step.frame.before, step.units)
    except (ParamError, Unworkable):
        return str(stored)


def _heated(step: ShownStep | None) -> str:
    """Return the range that a step heats beyond what it works, in words; "" for none."""
    heated = step.frame.step.heated if step else None
    return said(HEATED, heated, step.frame.before, step.units) if step and heated else ""


def _after(figure: Figure | None) -> str:
    return f"{figure.after} {figure.unit}".strip() if figure else ""


def _words(step: ShownStep | None, stored: Mapping[str, Any] | None) -> dict[str, str]:
    """Return what is said of a step, by what it is called."""
    told = {"Instruction": step.instruction if step else ""}
    told |= {label: str((stored or {}).get(name) or "") for name, label in WORDS.items()}
    return told | {"Photos": _photos(stored), "Let stand": _silenced(stored)}


def _photos(step: Mapping[str, Any] | None) -> str:
    return "; ".join(
        one.get("caption") or one["alt"] or "a photo without words" for one in (step or {}).get("photos", [])
    )


def _silenced(step: Mapping[str, Any] | None) -> str:
    return "; ".join((step or {}).get("silenced", {}).values())
