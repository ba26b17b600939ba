"""Checks of what a heat does to the steel itself: too hot, too cold, a treatment undone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from calculators.materials import BLUE_BRITTLE, Material
from procedures.engine.finding import Finding, caution
from procedures.engine.operation import Operation
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.pieces.treatment import Treatment


def usual_heat_burns(operation: Operation, piece: Piece, heated: tuple[Span, ...]) -> Iterator[Finding]:
    """Warn of hot work whose usual heat burns the steel at hand; welds go by another band."""
    steel, usual = piece.material, operation.heat
    planned = operation.planned_heat(piece)
    if not heated or usual is None or planned is None or operation.usual_welding_heats:
        return
    if usual[1] >= steel.burns_at and planned[1] < usual[1] and planned[0] < planned[1]:
        yield caution(
            "material.too_hot",
            "Mild steel is worked at up to {usual:temperature} here; {steel} burns at {burns:temperature}.",
            hint="Keep to {low:temperature} to {high:temperature}, and take more heats.",
            usual=usual[1],
            steel=steel.said,
            burns=steel.burns_at,
            low=planned[0],
            high=planned[1],
            source=_source(steel),
        )


def cold_for_steel(steel: Material, temperature: float, field: str) -> Iterator[Finding]:
    """Warn of a forging heat that is too low to forge the steel at, and most of all at the blue heat."""
    if temperature < steel.forging[0]:
        brittle = BLUE_BRITTLE[0] <= temperature <= BLUE_BRITTLE[1]
        yield caution(
            "material.too_cold",
            "{steel} is forged from {least:temperature} up; this is {given:temperature}{more}.",
            hint="Take a higher heat, or do nothing to it but warm it.",
            steel=steel.title,
            least=steel.forging[0],
            given=temperature,
            more=", the blue heat at which it cracks" if brittle else "",
            field=field,
            source=_source(steel),
        )


def _source(steel: Material) -> str:
    return "as its author gives it" if steel.is_own else "forging and burning heats from memory"


def heat_taken(
    operation: Operation, piece: Piece, heated: Iterable[Span]
) -> tuple[Piece, tuple[Finding, ...]]:
    """Return the piece with what the heat of a step takes of earlier treatment, and warnings of that.

    A step of heat treatment says itself what state it leaves; only a coat is then missed.
    """
    planned = operation.planned_heat(piece)
    findings: dict[Treatment, Finding] = {}
    for span in heated if planned else ():
        assert planned is not None
        run = piece.branch(span.branch).segments_between(span.low, span.high)
        treated = [one.treatment for one in run if one.treatment]
        if not treated:
            continue
        hottest = planned[1]
        for was in treated:
            left = was.heated_to(hottest)
            lost = was.coat != left.coat if operation.family == "treat" else was != left
            if lost:
                findings.setdefault(was, _lost(was, left, hottest, piece.branch(span.branch)))
        piece = piece.changed(span, partial(_heated, temperature=hottest))
    return piece, tuple(findings.values())


def _heated(segment: Segment, temperature: float) -> Segment:
    return replace(segment, treatment=segment.treatment.heated_to(temperature))


def _lost(was: Treatment, left: Treatment, temperature: float, branch: Branch) -> Finding:
    return caution(
        "shape.treatment_lost",
        "Part of this run of {branch} is {was}. At {heat:temperature} it comes out {left}.",
        hint="Do this before the treatment, keep that part cold, or treat it again.",
        branch=branch.said,
        was=was.said,
        left=left.said,
        heat=temperature,
        source="change at 727 °C, letting down from 150 °C, oil burnt at 300 °C: from memory",
    )
