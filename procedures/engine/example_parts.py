"""Parts that examples bring in: bars with a hole or a tenon, as the steps of their own would leave them."""

from __future__ import annotations

from dataclasses import replace

from calculators.sections import Section
from procedures.engine.pieces.branch import Feature, Mark
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import uniform


def hole(name: str, at: float, diameter: float) -> Feature:
    """Return a drilled hole; its metal is taken as gone before."""
    return Feature("drilled", name, at, "round", diameter, diameter)


def drilled(name: str, section: Section, length: float, diameter: float) -> Piece:
    """Return a bar with one hole, H, in its middle."""
    return bar(section, length, name=name).featured(name, hole("H", length / 2, diameter))


def tenoned(name: str, section: Section, body: float, tenon: Section, long: float) -> Piece:
    """Return a bar with a tenon at its start, a body beyond it, and a mark T 20 mm from its end."""
    used = long * tenon.area / section.area
    piece = bar(section, used + body, name=name)
    piece = piece.reshaped(Span(name, 0.0, used), uniform(tenon, long))
    return replace(piece, worked=()).marked(name, Mark("T", long + body - 20))
