"""What is asked about before a result is taken in: sizes that may be, but are more likely a slip."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from calculators.sections import Section
from calculators.wording import UnitSystem

from .engine.document import Document
from .models import ResultReading
from .predicting import Place, Prediction, predictions

FAR = 2.0  # times what is predicted, or its part: a slip of the comma is ten times; a judgement
LARGER = 1.05  # of the bar's section: what a calliper and a bar out of true may make of the same
MOST = 12  # doubts that are told


def doubts(
    document: Document,
    readings: Iterable[ResultReading],
    bars: Iterable[Mapping[str, Any]],
    units: UnitSystem,
) -> list[str]:
    """Return what looks like a slip in what was measured, a sentence each, at most twelve."""
    said = predictions(document)
    stock = {one.key: one.section for one in document.parts}
    stock |= {one["part"]: Section.from_json(one["section"]) for one in bars if one.get("section")}
    steps = {(part.key, step.key): n for part in document.parts for n, step in enumerate(part.steps, start=1)}
    found = [
        f"Step {steps.get((one.part, one.step), '?')}: {text}"
        for one in readings
        for text in _of(one, said, stock.get(one.part), units)
    ]
    return found[:MOST]


def _of(
    one: ResultReading, said: Mapping[Place, Prediction], bar: Section | None, units: UnitSystem
) -> Iterator[str]:
    own = (one.part, one.step, one.kind, one.branch)
    length, mass = said.get(Place(*own, "length")), said.get(Place(*own, "mass"))
    if one.length is not None and length and _is_far(one.length, length):
        yield f"a length of {units.length(one.length)}, where {units.length(length.typical)} is predicted."
    if one.mass is not None and mass and _is_far(one.mass, mass):
        yield f"a weight of {units.mass(one.mass)}, where {units.mass(mass.typical)} is predicted."
    section = Section.from_json(one.section) if one.section else None
    if section and bar and section.area > LARGER * bar.area and not _is_upset(own, said, bar):
        yield f"a section of {units.section(section)}, more than the bar it came from, {units.section(bar)}."


def _is_far(actual: float, said: Prediction) -> bool:
    return not said.low / FAR <= actual <= said.high * FAR


def _is_upset(own: tuple[str, str, str, str], said: Mapping[Place, Prediction], bar: Section) -> bool:
    """Whether the step is predicted to leave more than the bar was, so that more is no surprise."""
    width, thickness = said.get(Place(*own, "width")), said.get(Place(*own, "thickness"))
    return bool(width and thickness and width.typical * thickness.typical > bar.width * bar.thickness)
