"""Bringing finished parts into a piece as branches of their own, each hung on a place of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from procedures.engine.pieces.branch import Attachment, Branch
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.turning import is_mirrored, mirrored_tree


def free_names(names: Iterable[str], taken: set[str], prefix: str) -> dict[str, str]:
    """Return a name that is free for each of these: its own, else with the prefix, else numbered too."""
    free: dict[str, str] = {}
    for name in names:
        new, number = name, 1
        while new in taken or new in free.values():
            new = f"{prefix} {name}" if number == 1 else f"{prefix} {name} {number}"
            number += 1
        free[name] = new
    return free


def renamed(branch: Branch, names: Mapping[str, str]) -> Branch:
    """Return a branch under its new name, hung on its parent's new name."""
    held = branch.attached and replace(branch.attached, parent=names[branch.attached.parent])
    return replace(branch, name=names[branch.name], attached=held)


def numbered(piece: Piece, name: str, count: int) -> tuple[str, ...]:
    """Return the names of so many branches to be hung: the name itself for one, else numbered."""
    if count == 1:
        return (name,)
    taken = {one.name for one in piece.branches} | set(piece.groups)
    first = next(one for one in range(1, len(taken) + 2) if f"{name} {one}" not in taken)
    return tuple(f"{name} {number}" for number in range(first, first + count))


def hung(piece: Piece, other: Piece, holds: Sequence[Attachment], name: str) -> tuple[Piece, tuple[str, ...]]:
    """Return the piece with a copy of another part hung at every hold, and the names of their root branches.

    Several are numbered and make a group of that name; what hangs on them then goes by theirs. Branches and
    groups of a single one keep their names where those are free. The other part's metal is received.
    """
    return each_hung(piece, [(other, one) for one in holds], name)


def each_hung(
    piece: Piece, others: Sequence[tuple[Piece, Attachment]], name: str
) -> tuple[Piece, tuple[str, ...]]:
    """Return the same for copies that differ, each with its hold."""
    roots = numbered(piece, name, len(others))
    for root, (other, hold) in zip(roots, others, strict=True):
        piece = _hung_once(piece, other, hold, root, alone=len(others) == 1)
    if len(roots) > 1:
        piece = piece.grouped(name, (*piece.groups.get(name, ()), *roots))
    return piece, roots


def _hung_once(piece: Piece, other: Piece, hold: Attachment, root: str, *, alone: bool) -> Piece:
    if is_mirrored(piece, hold.parent):
        other = mirrored_tree(other)
    taken = {one.name for one in piece.branches} | set(piece.groups) | {root}
    others = [one.name for one in other.branches[1:]]
    given = free_names(others, taken, root) if alone else {one: f"{root} {one}" for one in others}
    names = {other.root.name: root, **given}
    piece = piece.hung(replace(other.root, name=root), hold)
    for branch in other.branches[1:]:
        piece = piece.with_branch(renamed(branch, names))
    for group, members in other.groups.items():
        piece = _grouped(piece, group, tuple(names[one] for one in members), root, alone=alone)
    joints = tuple(one.renamed(names) for one in other.joints)
    return replace(piece, joints=(*piece.joints, *joints), received=piece.received + other.volume)


def _grouped(piece: Piece, group: str, members: tuple[str, ...], root: str, *, alone: bool) -> Piece:
    """Return the piece with a group brought in; that of a further copy joins that of the first."""
    if alone:
        taken = {one.name for one in piece.branches} | set(piece.groups)
        return piece.grouped(free_names([group], taken, root)[group], members)
    named = f"{root.rpartition(' ')[0]} {group}"
    return piece.grouped(named, (*piece.groups.get(named, ()), *members))
