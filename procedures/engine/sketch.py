"""What an operation wants brought out in its drawing, noted without knowing how it is drawn."""

from __future__ import annotations

from dataclasses import dataclass, field

from procedures.engine.pieces.place import Point, Span


@dataclass
class Sketch:
    """A list of wishes for the drawing of one step, about places on the piece after it."""

    highlights: list[Span] = field(default_factory=list)
    lengths: list[Span] = field(default_factory=list)
    points: list[tuple[Point, str]] = field(default_factory=list)
    radii: list[tuple[Span, float]] = field(default_factory=list)
    angles: list[tuple[str, float]] = field(default_factory=list)
    cuts: list[Point] = field(default_factory=list)

    def highlight(self, span: Span) -> None:
        """Draw this range heavier."""
        self.highlights.append(span)

    def length(self, span: Span) -> None:
        """Give this range a dimension."""
        self.lengths.append(span)

    def point(self, point: Point, label: str) -> None:
        """Name this point."""
        self.points.append((point, label))

    def radius(self, span: Span, inside: float) -> None:
        """Give the inside radius [mm] of the bend over this range."""
        self.radii.append((span, inside))

    def angle(self, branch: str, degrees: float) -> None:
        """Give the angle at which this branch leaves its parent."""
        self.angles.append((branch, degrees))

    def cut(self, point: Point) -> None:
        """Draw a cut across the bar here."""
        self.cuts.append(point)
