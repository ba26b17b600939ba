"""What the operations of heat treatment share: their run, their heat, the state they leave."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from calculators.materials import CHANGE, Band, Material
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Operation, declare
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.pieces.treatment import Treatment

from .checks import no_metal

NEAR = 30.0  # °C beside a band that an eye cannot tell from it: Chapman's colours, read by a practised smith
SOURCE = "treating heats from memory"


class Treating(Operation):
    """One step of heat treatment; the shape stays."""

    family = "treat"
    where: Place = declare.place("Where", "The run that is treated; it may be bent.")
    temperature: float | None = declare.number(
        "Heat", "Left out, what its carbon wants.", required=False, least=100, most=1300, unit="°C"
    )

    def band(self, steel: Material) -> Band:
        """Return the heat that the steel wants [°C]."""
        return steel.normalising

    def heat_in(self, piece: Piece) -> float:
        """Return the heat that it is done at [°C]."""
        if self.temperature is not None:
            return self.temperature
        return sum(self.band(piece.material)) / 2

    def planned_heat(self, piece: Piece) -> Band:
        heat = self.heat_in(piece)
        return (heat, heat) if self.temperature is not None else self.band(piece.material)

    def scales_at(self, piece: Piece) -> float | None:
        return self.heat_in(piece)

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        return {"temperature": self.heat_in(before)}

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for span in self.spans(piece):
            yield from no_metal(piece.branch(span.branch), span)

    def below_change(self, piece: Piece, what: str) -> Iterator[Finding]:
        """Stop what only comes about above the heat at which steel changes."""
        heat = self.heat_in(piece)
        if heat < CHANGE:
            yield stop(
                f"{self.id}.below_change",
                "At {given:temperature} the steel does not change: {what}.",
                hint="Heat it past {least:temperature}, where a magnet lets go of it.",
                given=heat,
                what=what,
                least=piece.material.magnetic_to,
                field="temperature",
                source="the iron-carbon diagram, from memory: steel changes at 727 °C",
            )

    def out_of_band(self, piece: Piece, cold: str, hot: str) -> Iterator[Finding]:
        """Warn of a heat outside the steel's band by more than an eye can tell, with what comes of it."""
        heat, band = self.heat_in(piece), self.band(piece.material)
        low, high = band[0] - NEAR, band[1] + NEAR
        if heat < low:
            yield caution(
                f"{self.id}.too_cold",
                "{given:temperature} is low for {steel}: {what}.",
                what=cold,
                source=SOURCE,
                **self._band_words(piece, heat, band),
            )
        elif heat > high:
            yield caution(
                f"{self.id}.too_hot",
                "{given:temperature} is high for {steel}: {what}.",
                what=hot,
                source=SOURCE,
                **self._band_words(piece, heat, band),
            )

    def _band_words(self, piece: Piece, heat: float, band: Band) -> dict[str, Any]:
        return {
            "hint": "Take it to {low:temperature} to {high:temperature}.",
            "given": heat,
            "steel": piece.material.said,
            "low": band[0],
            "high": band[1],
            "field": "temperature",
            "mend": {"temperature": float(round((band[0] + band[1]) / 2))},
        }

    def heat_words(self, piece: Piece) -> Sentence:
        """Return its heat in words: the one given, or the band that the steel wants."""
        low, high = self.planned_heat(piece)
        if low == high:
            return say("{heat:temperature}", heat=low)
        return say("{low:temperature} to {high:temperature}", low=low, high=high)


def treated(piece: Piece, spans: tuple[Span, ...], change: Callable[[Treatment], Treatment]) -> Piece:
    """Return the piece with the treatment of its ranges changed."""

    def changed(segment: Segment) -> Segment:
        return replace(segment, treatment=change(segment.treatment))

    for span in spans:
        piece = piece.changed(span, changed)
    return piece


def treatments(piece: Piece, spans: tuple[Span, ...]) -> Iterator[Treatment]:
    """Yield the treatment of every segment of some ranges, "as forged" too."""
    for span in spans:
        for one in piece.branch(span.branch).segments_between(span.low, span.high):
            yield one.treatment


def thickest(piece: Piece, spans: tuple[Span, ...]) -> float:
    """Return the largest volume per skin [mm] in some ranges: what cools last."""
    return max(
        one.modulus
        for span in spans
        for one in piece.branch(span.branch).segments_between(span.low, span.high)
    )


def thinnest(piece: Piece, spans: tuple[Span, ...]) -> float:
    """Return the least thickness [mm] in some ranges, points and edges of no thickness let be."""
    sizes = [
        min(section.thickness, section.width)
        for span in spans
        for section in piece.branch(span.branch).sections_along(span.low, span.high)
    ]
    return min((one for one in sizes if one > 0), default=0.0)
