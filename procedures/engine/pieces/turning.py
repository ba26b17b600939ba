"""Turning a piece round end for end, as a smith turns it on the anvil: the same face stays up."""

from __future__ import annotations

from dataclasses import replace

from .branch import Attachment, Branch
from .piece import Piece


def turned_round(piece: Piece) -> Piece:
    """Return the same piece with the start of its root branch where the end was."""
    root = piece.root
    turned = {root.name: root.turned()}
    mirrored: set[str] = set()
    for branch in piece.branches[1:]:
        attached = branch.attached
        assert attached is not None  # only the root hangs on nothing
        if attached.parent == root.name:
            crosses = isinstance(attached.at, str)
            branch = replace(branch, attached=_on_turned(attached, root.length))
        else:
            crosses = attached.parent in mirrored
            branch = replace(branch, attached=_mirrored_hold(attached)) if crosses else branch
        if crosses:
            mirrored.add(branch.name)
            branch = mirrored_sideways(branch)
        turned[branch.name] = branch
    joints = tuple(one.moved(root.name, lambda at: root.length - at) for one in piece.joints)
    return replace(piece, branches=tuple(turned.values()), joints=joints)


def mirrored_tree(piece: Piece) -> Piece:
    """Return the piece as told in a frame whose left is the other side."""
    branches = tuple(
        replace(mirrored_sideways(one), attached=_mirrored_hold(one.attached) if one.attached else None)
        for one in piece.branches
    )
    return replace(piece, branches=branches)


def is_mirrored(piece: Piece, name: str) -> bool:
    """Whether a branch is told in a mirrored frame: one that hangs on a start keeps the piece's left."""
    attached = piece.branch(name).attached
    if attached is None:
        return False
    return (attached.at == "start") != is_mirrored(piece, attached.parent)


def mirrored_sideways(branch: Branch) -> Branch:
    """Return the branch with its curves to the left going to the right, and the other way about."""
    return replace(
        branch,
        segments=tuple(one.mirrored() for one in branch.segments),
        features=tuple(one.mirrored() for one in branch.features),
    )


def _on_turned(attached: Attachment, length: float) -> Attachment:
    """Return how a branch hangs on its parent once the parent, `length` mm long, is turned round."""
    if isinstance(attached.at, str):
        other = "start" if attached.at == "end" else "end"
        return replace(_mirrored_hold(attached), at=other)  # type: ignore[arg-type]
    angle = attached.angle - 180 if attached.angle > 0 else attached.angle + 180
    return replace(
        attached, at=length - attached.at, angle=angle, offset=-attached.offset, ahead=-attached.ahead
    )


def _mirrored_hold(attached: Attachment) -> Attachment:
    return replace(attached, angle=-attached.angle, offset=-attached.offset)
