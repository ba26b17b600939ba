"""What a procedure says that can be measured after its steps, as the fire takes little, the usual or much."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from calculators.sections import Section

from .engine.document import Document
from .engine.frames import Frame
from .engine.replan import gauges
from .engine.replay import replay
from .engine.scale import Estimate

ESTIMATES: tuple[Estimate, ...] = ("low", "typical", "high")
PIECE = "piece"  # the kind of what is weighed: all branches together
QUANTITIES = {"length": "length", "width": "width", "thickness": "thickness", "mass": "weight"}


@dataclass(frozen=True, slots=True)
class Place:
    """What is measured: after a step of a part, on a branch, of which `quantity`.

    `kind` is "run" (the part worked), "whole" (its branch) or "piece"; lengths in mm, mass in kg.
    """

    part: str
    step: str
    kind: str
    branch: str
    quantity: str


@dataclass(frozen=True, slots=True)
class Prediction:
    """A size as the replay gives it, with the least and the most that the estimates of scale make of it."""

    typical: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class StepReading:
    """One size that was measured after a step, and what the replay of its revision says of it.

    `actual` in mm or kg; `predicted` is None where the revision says nothing of it (any more). `who` is the
    user name, "" where the account is gone.
    """

    place: Place
    actual: float
    predicted: Prediction | None
    who: str
    revision: int
    result: int
    piece: int
    forged: date


def predictions(document: Document) -> dict[Place, Prediction]:
    """Return all that can be measured after the steps that come about, in the order of the steps."""
    found: dict[Place, dict[Estimate, float]] = {}
    for estimate in ESTIMATES:
        for part in replay(document, estimate=estimate).parts:
            for frame in part.frames:
                for place, value in _sizes(part.part.key, frame):
                    found.setdefault(place, {})[estimate] = value
    return {place: _prediction(values) for place, values in found.items() if "typical" in values}


def across(section: Section) -> tuple[float, float]:
    """Return the larger and the smaller size of a section [mm], whichever way up it lies."""
    return max(section.width, section.thickness), min(section.width, section.thickness)


def _prediction(values: Mapping[Estimate, float]) -> Prediction:
    return Prediction(values["typical"], min(values.values()), max(values.values()))


def _sizes(part: str, frame: Frame) -> Iterator[tuple[Place, float]]:
    if frame.status != "done":
        return
    for gauge in gauges(frame):
        own = (part, frame.key, gauge.kind, gauge.branch)
        yield Place(*own, "length"), gauge.length
        if gauge.section:
            width, thickness = across(gauge.section)
            yield Place(*own, "width"), width
            yield Place(*own, "thickness"), thickness
    yield Place(part, frame.key, PIECE, "", "mass"), frame.after.mass
