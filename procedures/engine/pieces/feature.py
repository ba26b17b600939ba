"""Features: what its plain sections do not tell of a bar: holes, grooves, chamfers, heads, collars."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

Kind = Literal[
    "punched",
    "slit",
    "drifted",
    "drilled",
    "groove",
    "dish",
    "chamfer",
    "head",
    "rivet",
    "fillet",
    "patch",
    "collar",
    "wrap",
    "basket",
]
Shape = Literal["round", "square", "rectangle", "slot"]
Side = Literal["", "top", "bottom", "left", "right", "both", "all"]

NOT_HOLES = {
    "groove": "groove",
    "dish": "dish",
    "chamfer": "chamfer",
    "head": "head",
    "rivet": "rivet",
    "fillet": "fillet",
    "patch": "weld patch",
    "collar": "collar",
    "wrap": "wrap",
    "basket": "basket",
}
_OTHER_SIDE: dict[Side, Side] = {"left": "right", "right": "left"}


@dataclass(frozen=True, slots=True)
class Feature:
    """A hole, a groove or the like, centred `at` mm from the start.

    `length` runs along the bar and `width` across it; a slot is round at its ends. `volume` corrects the
    solid segment's own [mm³]: a punched hole is less its slug only, because the rest of its metal stands
    round it as a boss, a drilled one is less all of it. `depth` is
    how far a groove, a dish or a chamfer goes in, `side` the face or faces it goes in from ("both": the two
    that `face` names). A chamfer runs along the bar: its two ends ride on the metal, and it can be cut.
    """

    kind: Kind
    name: str
    at: float
    shape: Shape
    length: float
    width: float
    volume: float = 0.0
    bulge: float = 0.0  # how much wider the bar stands at the hole [mm]
    face: Literal["flat", "edge"] = "flat"  # made through the thickness or, from an edge, through the width
    depth: float = 0.0
    side: Side = ""
    turns: float = 0.0  # of a wrap or a basket

    @property
    def is_hole(self) -> bool:
        """Whether it goes through the bar."""
        return self.kind not in NOT_HOLES

    @property
    def said(self) -> str:
        """What it is called within a sentence: "the hole H1", "the groove 2", "a dish" if it has no name."""
        kind = NOT_HOLES.get(self.kind, "hole")
        if not self.name:
            return f"a {kind}"
        named = kind in self.name.split()  # never "the hole hole 2", nor "the hole bolt hole 2"
        return f"the {self.name}" if named else f"the {kind} {self.name}"

    def moved(self, move: Callable[[float], float]) -> Feature:
        """Return it where its metal has gone; a hole keeps its size, a chamfer its two ends."""
        if self.kind != "chamfer":
            return replace(self, at=move(self.at))
        low, high = move(self.at - self.length / 2), move(self.at + self.length / 2)
        return replace(self, at=(low + high) / 2, length=high - low)

    def between(self, low: float, high: float) -> Feature | None:
        """Return what of it lies on the part of its branch between two distances [mm], told from `low`.

        A hole goes where its centre is; a chamfer is cut, and its volume with it.
        """
        if self.kind != "chamfer":
            return replace(self, at=self.at - low) if low <= self.at <= high else None
        first, last = max(self.at - self.length / 2, low), min(self.at + self.length / 2, high)
        if last <= first:
            return None
        share = (last - first) / self.length
        return replace(self, at=(first + last) / 2 - low, length=last - first, volume=self.volume * share)

    def turned(self, length: float) -> Feature:
        """Return it on a branch of this length [mm] that is turned round, the same face up."""
        return replace(self, at=length - self.at, side=_OTHER_SIDE.get(self.side, self.side))

    def mirrored(self) -> Feature:
        """Return it as told in a frame whose left is the other side."""
        return replace(self, side=_OTHER_SIDE.get(self.side, self.side))
