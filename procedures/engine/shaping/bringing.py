"""What steps that bring in another part ask of it: that it is there, which branch it goes to, where on it."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.finding import Finding, Unworkable, stop
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import marked
from procedures.engine.pieces.turning import turned_round

from .checks import name_taken

SIDES = {"up": "above it", "down": "below it", "left": "to its left", "right": "to its right"}


def other_part(piece: Piece, key: str, field: str = "part") -> Piece:
    """Return the other part. Raises Unworkable when it is not on the bench."""
    if key not in piece.bench:
        raise Unworkable(
            stop(
                "part.not_there",
                "Part {part} is not there to be brought in.",
                hint="Name another part of the procedure.",
                part=key,
                field=field,
            )
        )
    return piece.bench[key]


def one_branch(piece: Piece, on: str) -> Branch:
    """Return the branch meant. Raises Unworkable for a group of several: one part goes to one of them."""
    members = piece.members(on)
    if len(members) > 1:
        raise Unworkable(
            stop(
                "part.one_at_a_time",
                "{on} has {count:count} members, and the part goes to one of them.",
                hint="Name one branch in each step.",
                on=on,
                count=len(members),
                field="on",
            )
        )
    return piece.branch(members[0])


def seen_from(other: Piece, end: End) -> Piece:
    """Return another part seen so that this end of it is its start."""
    return turned_round(other) if end == "end" else other


def place_on(other: Piece, mark: str | None, field: str) -> float:
    """Return how far a mark or a hole of another part lies from its start; the middle where none is named.

    Raises Unworkable when there is none of that name.
    """
    if not mark:
        return other.root.length / 2
    hole = next((one for one in other.root.features if one.name == mark), None)
    if hole is not None and other.root.mark(mark) is None:
        return hole.at
    try:
        return marked(other.root, mark)
    except Unworkable as refused:
        raise Unworkable(refused.finding.on_field(field)) from refused


def mark_words(part: str, mark: str | None) -> str:
    """Return a place of another part as it is said: "M of the blade", "the middle of the blade"."""
    return f"{mark} of the {part}" if mark else f"the middle of the {part}"


def two_sides_named(piece: Piece, names: tuple[str, ...], group: str) -> Iterator[Finding]:
    """Stop a step whose part becomes two branches and a group, unless it names the three apart and free."""
    if len(names) != 2 or len({*names, group}) != 3:
        yield stop(
            "part.two_names",
            "Its two sides need two names, and their group another.",
            hint="Give two names, and a third for the group.",
            field="arms",
        )
    yield from name_taken(piece, names, "arms")
    yield from name_taken(piece, (group,), "group")
