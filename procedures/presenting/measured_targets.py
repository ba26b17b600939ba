"""Measured sizes of an original as targets of the stock page: low, typical and high of what was corrected."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from procedures.engine.document import Document
from procedures.engine.originals import Measurement
from procedures.stock.target import Target

from .stock import StockAnswer

ESTIMATES = ("low", "typical", "high")
SAME = 0.5  # mm: a size shown in the reader's units may be rounded so far


@dataclass(frozen=True, slots=True)
class MeasuredTarget:
    """A measurement that the procedure gives the size of; `sizes` are its bounds in mm, by their names."""

    key: str
    what: str
    want: str
    sizes: tuple[tuple[str, float], ...]


def measured_targets(document: Document, part: str, wanted: Collection[str]) -> Iterator[MeasuredTarget]:
    """Yield the measurements of a part that can be asked for; `wanted` are the keys of what can."""
    for one in _of_part(document, part):
        if one.size in wanted:
            yield MeasuredTarget(one.key, one.what, one.size, tuple(zip(ESTIMATES, one.bounds, strict=True)))


def stock_bounds(answer: StockAnswer, key: str) -> list[tuple[str, str, str]]:
    """Return (estimate, corrected size, what it takes) of the measurement that an answer is for.

    Nothing where what was asked is not the size of this measurement, or nothing comes out.
    """
    one = next((one for one in _of_part(answer.planned_document, answer.wish.part) if one.key == key), None)
    kind, _, of = one.size.partition(":") if one else ("", "", "")
    target = answer.target
    if one is None or target.kind != kind or of not in (target.branch, target.step):
        return []
    if not one.bounds[0] - SAME <= target.value <= one.bounds[2] + SAME:
        return []
    return [
        (name, answer.units.size(size), _takes(answer, replace(target, value=size)))
        for name, size in zip(ESTIMATES, one.bounds, strict=True)
        if size > 0
    ]


def _takes(answer: StockAnswer, target: Target) -> str:
    wish = replace(answer.wish, targets=(target,))
    other = StockAnswer(answer.planned_document, answer.units, wish, nominal=answer.nominal)
    return other.said(other.answer.typical.value) if other.answer else "no stock gives it"


def _of_part(document: Document, part: str) -> list[Measurement]:
    found = document.original.measurements if document.original else ()
    return [one for one in found if one.size and one.part == part]
