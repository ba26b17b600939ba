"""What the operations share that bend the bar: what is too tight for it, and the holes that suffer."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from procedures.engine.finding import Finding, caution
from procedures.engine.operation import Operation
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Plane
from procedures.engine.pieces.place import Span

from .curving import depth
from .holes import holes_between

HOT = 0.5  # thicknesses of inside radius below which hot metal folds: from memory
ON_EDGE = 1.5  # widths of inside radius on edge: from memory
NEAR_HOLE = 2.0  # thicknesses between a hole and a bend: from memory
FLAT = 1.2  # times as wide as thick, from which a bar counts as lying on edge: our judgement


class BendingOperation(Operation):
    """An operation that turns the bar from its line."""

    def tight(self, section: Section, plane: Plane, radius: float, field: str) -> Iterator[Finding]:
        """Warn of an inside radius [mm] on which the hollow side folds."""
        thickness = depth(section, plane)
        if radius < HOT * thickness:
            yield caution(
                f"{self.id}.tight",
                "Inside radius {radius:size} on {thickness:size}: below {times:number} times the thickness "
                "the inside folds into a rag.",
                hint="Give at least {least:size}.",
                radius=radius,
                thickness=thickness,
                times=HOT,
                least=HOT * thickness,
                field=field,
                source="0.5 thicknesses from memory",
            )

    def on_edge(self, section: Section, plane: Plane, radius: float, field: str) -> Iterator[Finding]:
        """Warn of flat bar bent on edge on a radius [mm] on which it buckles."""
        least = ON_EDGE * section.width
        if plane == "hard" and section.width > FLAT * section.thickness and radius < least:
            yield caution(
                f"{self.id}.on_edge",
                "On edge, {section:section} buckles below an inside radius of {least:size}.",
                hint="Dress it flat after every few blows, or turn it the easy way.",
                section=section,
                least=least,
                field=field,
                source="1.5 widths from memory",
            )

    def holes_near(self, branch: Branch, span: Span, plane: Plane, field: str) -> Iterator[Finding]:
        """Warn of each hole in the bent metal or close to it."""
        near = NEAR_HOLE * depth(branch.section_at((span.low + span.high) / 2), plane)
        for hole in holes_between(branch, span, near):
            yield caution(
                f"{self.id}.hole_near",
                "{hole} comes nearer to the bent metal than {near:length}: it goes oval.",
                hint="Bend first, or drift the hole again afterwards.",
                hole=hole.said,
                near=near,
                field=field,
                source="2 thicknesses from memory",
            )
