"""Parts that examples bring in: bars with a hole or a tenon, as the steps of their own would leave them."""

from __future__ import annotations

from dataclasses import replace

from calculators.sections import Section

from .branch import Feature, Mark
from .piece import Piece, bar
from .segment import uniform


def hole(name: str, at: float, diameter: float) -> Feature:
    """Return a drilled hole; its metal is taken as gone before."""
    return Feature("drilled", name, at, "round", diameter, diameter)


def drilled(name: str, section: Section, length: float, diameter: float) -> Piece:
    """Return a bar with one hole, H, in its middle."""
    return bar(section, length, name=name).featured(name, hole("H", length / 2, diameter))


def tenoned(name: str, section: Section, body: float, tenon: Section, long: float) -> Piece:
    """Return a bar with a tenon at its start, and a mark T 20 mm from its end."""
    piece = bar(section, body, name=name)
    root = replace(piece.root, segments=(uniform(tenon, long), *piece.root.segments))
    return piece.with_branch(root).marked(name, Mark("T", long + body - 20))
