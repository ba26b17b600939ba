"""Forging in tests: steps put to a piece one after another."""

from __future__ import annotations

from typing import Any

from procedures.engine.document import Part, Step
from procedures.engine.pieces.piece import Piece
from procedures.engine.replay import Frame, work
from procedures.engine.scale import ScaleHabit


def tried(
    piece: Piece, operation: str, *, heats: int = 0, welds: int = 0, scale: float = 0.0, **params: Any
) -> Frame:
    """Return the frame of one step, done or stopped; `scale` is the depth of a heat of either kind."""
    part = Part(piece.root.name, piece.name, piece.stock.section, piece.stock.length, piece.material)
    step = Step("s1", operation, params, heats=heats, welding_heats=welds)
    return work(part, step, piece, scale=ScaleHabit(forging=scale, welding=scale))


def forged(piece: Piece, operation: str, **rest: Any) -> Piece:
    """Return the piece after a step that must come about."""
    frame = tried(piece, operation, **rest)
    assert frame.status == "done", [one.text() for one in frame.findings]
    return frame.after


def refused(piece: Piece, operation: str, **rest: Any) -> list[str]:
    """Return the codes for which a step is stopped."""
    frame = tried(piece, operation, **rest)
    assert frame.status == "stopped"
    assert frame.after == frame.before
    return [one.code for one in frame.of_level("stop")]


def at(on: str = "bar", datum: str = "end", offset: float = 0.0, **more: Any) -> dict[str, Any]:
    """Return a stored position."""
    return {"on": on, "datum": datum, "offset": offset, **more}


def split(piece: Piece, offset: float = 100, **more: Any) -> Piece:
    """Return the piece with its last `offset` mm split into left and right."""
    given = {"where": at(offset=offset), "children": ["left", "right"], **more}
    return forged(piece, "split", **given)
