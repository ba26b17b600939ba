"""Parting a branch: what stays, what the kerf takes, and what leaves with the offcut."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from procedures.engine.pieces.branch import Branch, Feature, Mark, in_order
from procedures.engine.pieces.piece import Offcut, Piece
from procedures.engine.pieces.segment import TOUCH

Kept = Literal["start", "end"]


@dataclass(frozen=True)
class Cut:
    """A cut across a branch, `at` mm from its start where the kept part ends; the kerf [mm] lies beyond."""

    branch: str
    at: float
    keep: Kept
    kerf: float

    def ranges(self, branch: Branch) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
        """Return (low, high) [mm] of what is kept, of the kerf and of the offcut; the last may be empty."""
        if self.keep == "start":
            far = min(self.at + self.kerf, branch.length)
            return (0.0, self.at), (self.at, far), (far, branch.length)
        near = max(self.at - self.kerf, 0.0)
        return (self.at, branch.length), (near, self.at), (0.0, near)

    def leaving(self, piece: Piece) -> tuple[str, ...]:
        """Return the branches that hang on the part cut off, with all that hangs on those."""
        gone: list[str] = []
        for child in piece.children(self.branch):
            attached = child.attached
            assert attached is not None  # a child hangs on its parent
            if self._is_beyond(attached.at):
                gone += [child.name, *_hanging_on(piece, child.name)]
        return tuple(gone)

    def _is_beyond(self, at: float | str) -> bool:
        if isinstance(at, str):
            return at != self.keep
        return at > self.at + TOUCH if self.keep == "start" else at < self.at - TOUCH

    def parts_from_parent(self, branch: Branch) -> bool:
        """Whether what a branch hangs by is on the part cut off."""
        return branch.attached is not None and self._is_beyond(branch.attached.by)

    def through(self, branch: Branch) -> Feature | None:
        """Return a hole or the like that the cut goes through, or None; a chamfer may be cut."""
        _, (low, high), _ = self.ranges(branch)
        for one in branch.features:
            if one.kind == "chamfer":
                continue
            if one.at - one.length / 2 < high - TOUCH and one.at + one.length / 2 > low + TOUCH:
                return one
        return None

    def made(self, piece: Piece, name: str) -> Piece:
        """Return the piece after the cut, the kerf entered as lost and the offcut under its name."""
        branch = piece.branch(self.branch)
        kept_range, _, off = self.ranges(branch)
        kept, rest = _part(branch, *kept_range), _part(branch, *off)
        hanging = self.leaving(piece)
        leaves = rest.volume + sum(piece.branch(one).volume for one in hanging)
        lost = branch.volume - kept.volume - rest.volume
        for one in hanging:
            piece = piece.without_branch(one)
        piece = self._shortened(piece, kept, -kept_range[0])
        if leaves > 0:
            piece = replace(piece, offcuts=(*piece.offcuts, Offcut(name, rest.segments, leaves)))
        return piece.losing("kerf", lost)

    def _shortened(self, piece: Piece, branch: Branch, shift: float) -> Piece:
        """Return the piece with the branch cut short, and what hangs on its side or is joined there moved."""
        piece = piece.with_branch(branch).carrying(self.branch, lambda at: at + shift)
        lengths = {one.name: one.length for one in piece.branches}
        left = (one.left(lengths) for one in piece.joints)
        return replace(piece, joints=tuple(one for one in left if one is not None))


def _hanging_on(piece: Piece, name: str) -> list[str]:
    found = []
    for child in piece.children(name):
        found += [child.name, *_hanging_on(piece, child.name)]
    return found


def _part(branch: Branch, low: float, high: float) -> Branch:
    """Return the part of a branch between two distances [mm], with the marks and holes that lie there."""
    if high - low < TOUCH:
        return replace(branch, segments=(), marks=(), features=())
    length = high - low
    marks = (_moved(one, branch, low, high) for one in branch.marks)
    features = (one.between(low, high) for one in branch.features)
    return replace(
        branch,
        segments=branch.segments_between(low, high),
        marks=in_order((one for one in marks if -TOUCH <= one.at <= length + TOUCH), length),
        features=tuple(one for one in features if one is not None),
    )


def _moved(mark: Mark, branch: Branch, low: float, high: float) -> Mark:
    """Return a mark as it lies on the part low..high; one that stays with an end stays with the new one."""
    if mark.holds == "start":
        return mark
    if mark.holds == "end":
        return replace(mark, at=mark.at - (branch.length - (high - low)))
    return replace(mark, at=mark.at - low)
