"""Bringing a finished part into a piece, end to end with one of its branches."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from procedures.engine.pieces.branch import Branch, End, Mark
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import Segment
from procedures.engine.pieces.turning import is_mirrored, mirrored_tree, turned_round

from .hanging import free_names, renamed


@dataclass(frozen=True)
class Joining:
    """An end of a branch of a piece, and the end of another part, known as `key`, that goes to it."""

    branch: str
    end: End
    key: str
    part_end: End

    def placed(self, piece: Piece) -> Piece:
        """Return the other part as it lies beside the piece: its end that is joined next to ours."""
        other = piece.bench[self.key]
        if self.part_end == self.end:
            other = turned_round(other)
        return mirrored_tree(other) if is_mirrored(piece, self.branch) else other

    def brought(self, piece: Piece) -> tuple[Piece, float]:
        """Return the piece with the other part gone on to the branch, and how far from its start they meet.

        Branches, groups, marks and holes of the other part keep their names; those that are taken get the
        part's key before them.
        """
        own, other = piece.branch(self.branch), self.placed(piece)
        root = other.root
        names = {root.name: own.name}
        taken = {one.name for one in piece.branches} | set(piece.groups)
        names |= free_names([one.name for one in other.branches[1:]], taken, self.key)
        groups = free_names(other.groups, taken | set(names.values()), self.key)
        at_end = self.end == "end"
        own_from, other_from = (0.0, own.length) if at_end else (root.length, 0.0)
        whole = self._in_a_row(own, root, own_from, other_from)
        piece = piece.with_branch(whole).carrying(own.name, lambda at: at + own_from)
        for branch in other.branches[1:]:
            piece = piece.with_branch(renamed(_moved_along(branch, root.name, other_from), names))
        joints = [one.moved(root.name, lambda at: at + other_from).renamed(names) for one in other.joints]
        brought_groups = {
            groups[key]: tuple(names[one] for one in members) for key, members in other.groups.items()
        }
        piece = replace(
            piece,
            received=piece.received + other.volume,
            joints=(*piece.joints, *joints),
            groups={**piece.groups, **brought_groups},
        )
        return piece, own.length if at_end else root.length

    def _in_a_row(self, own: Branch, other: Branch, own_from: float, other_from: float) -> Branch:
        marks = free_names([one.name for one in other.marks], {one.name for one in own.marks}, self.key)
        holes = free_names([one.name for one in other.features], {one.name for one in own.features}, self.key)
        other_end: End = "start" if self.end == "end" else "end"
        all_marks = [
            *(_moved(one, own_from, self.end) for one in own.marks),
            *(replace(_moved(one, other_from, other_end), name=marks[one.name]) for one in other.marks),
        ]
        features = [
            *(_shifted(one, own_from) for one in own.features),
            *(replace(_shifted(one, other_from), name=holes[one.name]) for one in other.features),
        ]
        brought = _lined_up(own, other, self.end)
        segments = own.segments + brought if self.end == "end" else brought + own.segments
        return replace(
            own,
            segments=segments,
            marks=tuple(sorted(all_marks, key=lambda one: one.at)),
            features=tuple(features),
        )


def _moved(mark: Mark, by: float, joined: End) -> Mark:
    """Return the mark moved along; one that stayed with the end now joined rides on the metal from here."""
    return replace(mark, at=mark.at + by, holds="metal" if mark.holds == joined else mark.holds)


def _lined_up(own: Branch, other: Branch, end: End) -> tuple[Segment, ...]:
    """Return the segments of the other part with the one that is joined in line with ours."""
    if not (own.segments and other.segments):
        return other.segments
    here, there = own.segments[-1].aside, other.segments[0].aside_at_end  # of the bars, not of their scarfs
    if end == "start":
        here, there = own.segments[0].aside_at_end, other.segments[-1].aside
    left, up = (to - it for to, it in zip(here, there, strict=True))
    if not left and not up:
        return other.segments
    return tuple(replace(one, shift=(one.aside[0] + left, one.aside[1] + up)) for one in other.segments)


def _shifted(feature: Any, by: float) -> Any:
    return replace(feature, at=feature.at + by)


def _moved_along(branch: Branch, parent: str, by: float) -> Branch:
    """Return a branch of the other part where the side of its parent, if it hangs on that, now is."""
    held = branch.attached
    if held is None or held.parent != parent or isinstance(held.at, str):
        return branch
    return replace(branch, attached=replace(held, at=held.at + by))
