"""What must come out of a part: a length, a ring's inside, a size after a step, a mass."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from calculators.wording import Sentence, say
from procedures.engine.frames import Frame, PartReplay
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import Segment

Kind = Literal["length", "total", "ring", "width", "thickness", "mass"]
RING = 180.0  # degrees of bend in a row from which a branch has an inside to measure: our judgement


@dataclass(frozen=True, slots=True)
class Target:
    """A size of the finished piece, or of what a step worked: `value` in mm, or kg for a mass.

    `branch` is asked by "length" and "ring", `step` (a key) by "width" and "thickness".
    """

    kind: Kind
    value: float
    branch: str = ""
    step: str = ""

    def measured(self, part: PartReplay) -> float | None:
        """Return how large it comes out, or None where it does not come about."""
        if not part.is_complete:
            return None
        if self.kind in ("width", "thickness"):
            frame = next((one for one in part.frames if one.key == self.step), None)
            return _size_after(frame, self.kind) if frame else None
        return self.on(part.final)

    def on(self, piece: Piece) -> float | None:
        """Return how large it is on a piece, or None where it is not there; no size after a step."""
        if self.kind == "mass":
            return piece.mass
        if self.kind == "total":
            return sum(one.length for one in piece.branches)
        if not piece.has_branch(self.branch):
            return None
        branch = piece.branch(self.branch)
        return inside_diameter(branch) if self.kind == "ring" else branch.length

    def amount(self, value: float) -> Sentence:
        """Return a size of this kind in words: "166 mm"."""
        kinds = {"mass": "mass", "length": "length", "total": "length"}
        return say(f"{{value:{kinds.get(self.kind, 'size')}}}", value=value)

    def said(self, part: PartReplay) -> Sentence:
        """Return what is asked for: "bar 200 mm long"."""
        if self.kind == "mass":
            return say("a mass of {value:mass}", value=self.value)
        if self.kind == "total":
            return say("{value:length} over all branches", value=self.value)
        if self.kind == "ring":
            return say("{on} {value:size} inside", on=self.branch, value=self.value)
        if self.kind == "length":
            return say("{on} {value:length} long", on=self.branch, value=self.value)
        number = next((one.number for one in part.frames if one.key == self.step), 0)
        return say(
            "a {kind} of {value:size} after step {number:count}",
            kind=self.kind,
            value=self.value,
            number=number,
        )


def inside_diameter(branch: Branch) -> float | None:
    """Return the least inside diameter [mm] of a branch's longest bend, or None where it bends too little."""
    best: list[Segment] = []
    run: list[Segment] = []
    for one in branch.segments:
        run = [*run, one] if isinstance(one.path, Arc) else []
        best = run if _swept(run) > _swept(best) else best
    if _swept(best) < RING:
        return None
    return min(_inside(one) for one in best)


def _swept(run: list[Segment]) -> float:
    return sum(one.path.angle for one in run if isinstance(one.path, Arc))


def _inside(segment: Segment) -> float:
    path, section = segment.path, max((segment.start, segment.end), key=lambda one: one.area)
    assert isinstance(path, Arc)
    if path.plane == "hard":
        return 2 * path.radius - section.width
    share = 1 - section.centroid_share if path.turn > 0 else section.centroid_share
    return 2 * (path.radius - share * section.thickness)


def _size_after(frame: Frame, kind: Kind) -> float | None:
    """Return the width or thickness [mm] in the middle of what a step worked."""
    if frame.status != "done" or not frame.after.worked:
        return None
    span = frame.after.worked[0]
    if not frame.after.has_branch(span.branch):
        return None
    section = frame.after.branch(span.branch).section_at((span.low + span.high) / 2)
    return section.width if kind == "width" else section.thickness
