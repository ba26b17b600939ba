"""Changes to be taken over, as pages show them: what the other side changed, and what of it is mine too."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from calculators.wording import UnitSystem
from procedures.comparing import BAR, StepPair, differing
from procedures.engine.catalogue import find
from procedures.engine.document import Document
from procedures.engine.replay import replay
from procedures.merging import StepChange

from .comparison import ComparedRow, ComparedStep
from .parts import ShownPart
from .procedures import ShownProcedure

KINDS = {"changed": "Changed", "added": "Added", "removed": "Removed", "moved": "Moved"}
PARTS = {"bar": "Its bar was changed", "part added": "A part was added", "part removed": "A part was removed"}


@dataclass(frozen=True)
class ShownChange:
    """One change of theirs: `rows` tell the base and theirs, `own` the base and mine where they conflict."""

    change: StepChange
    title: str
    where: str  # "Step 2", or "" for a part
    rows: tuple[ComparedRow, ...]
    own: tuple[ComparedRow, ...] = ()

    @property
    def name(self) -> str:
        """What it is called in a form."""
        return self.change.name

    @property
    def tag(self) -> str:
        """What became of it, in a word or two."""
        return KINDS.get(self.change.kind) or PARTS[self.change.kind]

    @property
    def is_had(self) -> bool:
        """Whether mine has it already."""
        return self.change.state == "had"

    @property
    def conflict(self) -> str:
        """What both sides did, in a sentence; "" where they do not meet."""
        if self.change.state != "conflict":
            return ""
        if self.change.kind in ("removed", "part removed"):
            return "You changed what was taken out there. Taking it over takes out yours; undo helps."
        if self.change.kind == "part added":
            return "You have another part under this key. Taking it over puts theirs in its place."
        what = ", ".join(self.labels)
        return f"Both sides changed {what}. Taking it over puts theirs there; the rest of yours stays."

    @property
    def labels(self) -> list[str]:
        """What clashes, by the labels of the form."""
        kind = find((self.change.theirs or {}).get("operation", ""))
        known = kind.params() if kind else {}
        return [
            known[one].label.lower() if one in known else one.replace("_", " ") for one in self.change.clashes
        ]


def shown_changes(
    changes: list[StepChange], base: Document, theirs: Document, mine: Document, units: UnitSystem
) -> list[ShownChange]:
    """Return changes ready to show, the sizes in the reader's units."""
    before = replay(base)
    others = [replay(one, earlier=before) for one in (theirs, mine)]
    sides = [ShownProcedure(one, units) for one in (before, *others)]
    return [_shown(one, sides) for one in changes]


def _shown(change: StepChange, sides: list[ShownProcedure]) -> ShownChange:
    parts = [one.part(change.part) for one in sides]
    clash = change.state == "conflict"
    if not change.step:
        name = str((change.theirs or change.base or {})["name"])
        if change.kind != "bar":
            return ShownChange(change, name, "", ())
        own = _bar_rows(change.base, change.mine, parts[0], parts[2]) if clash else ()
        return ShownChange(change, name, "", _bar_rows(change.base, change.theirs, parts[0], parts[1]), own)
    steps = [
        part.step(step["key"]) if part and step else None
        for part, step in zip(parts, (change.base, change.theirs, change.mine), strict=True)
    ]
    told = ComparedStep(StepPair(change.base, change.theirs), steps[0], steps[1])
    rows = () if change.kind == "moved" else told.rows
    own = (
        ComparedStep(StepPair(change.base, change.mine), steps[0], steps[2]).rows
        if clash and steps[2]
        else ()
    )
    return ShownChange(change, told.title, told.where, rows, own)


def _bar_rows(base: Any, changed: Any, old: Any, new: Any) -> tuple[ComparedRow, ...]:
    names = differing(base or {}, changed or {}, BAR)
    return tuple(ComparedRow(_BAR[one][0], _BAR[one][1](old), _BAR[one][1](new)) for one in names)


_BAR: dict[str, tuple[str, Callable[[ShownPart], str]]] = {
    "name": ("Name", lambda part: part.name),
    "quantity": ("How many", lambda part: str(part.quantity)),
    "material": ("Material", lambda part: part.material),
    "stock": ("Bar", lambda part: part.stock),
}
