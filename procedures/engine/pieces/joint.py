"""Joints: places of a piece held to each other. A joint closes a loop; no branch has a second parent."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from .branch import Branch
from .place import Point
from .segment import TOUCH, close

Weld = Literal[
    "fold_weld",
    "lap_weld",
    "ring_weld",
    "fagot_weld",
    "jump_weld",
    "cleft_weld",
    "side_weld",
    "cross_weld",
]
Fixing = Literal["rivet", "collar", "wrap", "pin", "bolt", "tenon", "wedge", "hook"]
FIXINGS: dict[str, str] = {
    "rivet": "rivet",
    "collar": "collar",
    "wrap": "wrap",
    "pin": "pin",
    "bolt": "bolt",
    "tenon": "tenon",
    "wedge": "wedged tenon",
    "hook": "hook or link",
}


@dataclass(frozen=True, slots=True)
class Joint:
    """Places held to each other by a weld, a rivet or the like.

    `other` is the key of the part that came in by it. `moves` says that it must stay free to move, and
    `clearance` [mm] how much wider the hole is than what goes through it; None where there is no hole.
    """

    kind: Weld | Fixing
    places: tuple[Point, ...]
    name: str = ""
    other: str = ""
    moves: bool = False
    clearance: float | None = None

    @property
    def is_weld(self) -> bool:
        """Whether the metal is one there."""
        return self.kind not in FIXINGS

    @property
    def said(self) -> str:
        """What it is called within a sentence, to follow "the": "rod weld", "rivet"."""
        return self.name or FIXINGS.get(self.kind, "weld")

    def on(self, branch: str) -> tuple[float, ...]:
        """Return how far from the start of a branch it holds [mm]; nothing where it does not."""
        return tuple(one.at for one in self.places if one.branch == branch)

    def closes(self, branch: Branch) -> bool:
        """Whether it holds both ends of a branch together."""
        places = self.on(branch.name)
        return any(close(one, 0.0) for one in places) and any(close(one, branch.length) for one in places)

    def moved(self, branch: str, move: Callable[[float], float]) -> Joint:
        """Return it where the metal of a branch has gone."""
        return self._with(
            replace(one, at=move(one.at)) if one.branch == branch else one for one in self.places
        )

    def renamed(self, names: Mapping[str, str]) -> Joint:
        """Return it with its branches under their new names."""
        return self._with(replace(one, branch=names[one.branch]) for one in self.places)

    def left(self, lengths: Mapping[str, float]) -> Joint | None:
        """Return what is left of it on branches of these lengths [mm], or None where it holds nothing.

        Of places that were held to each other one alone is held to nothing.
        """
        there = tuple(
            one
            for one in self.places
            if one.branch in lengths and -TOUCH <= one.at <= lengths[one.branch] + TOUCH
        )
        return replace(self, places=there) if len(there) >= min(len(self.places), 2) else None

    def _with(self, places: Iterable[Point]) -> Joint:
        return replace(self, places=tuple(places))
