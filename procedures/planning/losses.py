"""What the fire would take if the predicted heats were taken and not the planned ones.

A second replay of the same document with other numbers of heats. Nothing is written back: an author's heats
and sizes stay as they are.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from procedures.engine.document import Document, Part
from procedures.engine.frames import PartReplay, Replay
from procedures.engine.replay import replay

from .plans import HeatPlan, PartPlan, StepPlan


@dataclass(frozen=True, slots=True)
class PartLoss:
    """One part with its planned and with its predicted heats: scale and mass [kg], length [mm].

    `comes_about` is unset where so many heats would burn away what a later step needs; its predicted figures
    are then those up to there.
    """

    part: Part
    scale: tuple[float, float]
    mass: tuple[float, float]
    length: tuple[float, float]
    comes_about: bool


def losses_by_plan(replayed: Replay, plan: HeatPlan) -> tuple[PartLoss, ...]:
    """Return what each part loses and measures, as planned and as predicted."""
    again = replay(with_predicted_heats(replayed.document, plan), estimate=replayed.estimate)
    return tuple(_loss(one, two) for one, two in zip(replayed.parts, again.parts, strict=True))


def with_predicted_heats(document: Document, plan: HeatPlan) -> Document:
    """Return the document with the typical predicted heats of each member in the place of the planned."""
    return replace(document, parts=tuple(_part(one, plan.part(one.key)) for one in document.parts))


def _part(part: Part, plan: PartPlan | None) -> Part:
    if plan is None:
        return part
    heats = {one.key: _each(one) for one in plan.steps if one.kind == "forged"}
    steps = (replace(one, heats=heats.get(one.key, one.heats)) for one in part.steps)
    return replace(part, steps=tuple(steps))


def _each(step: StepPlan) -> int:
    return round(step.predicted.typical / step.frame.members)


def _loss(planned: PartReplay, predicted: PartReplay) -> PartLoss:
    pieces = planned.final, predicted.final
    return PartLoss(
        planned.part,
        scale=_pair(one.mass_of(one.lost("scale")) for one in pieces),
        mass=_pair(one.mass for one in pieces),
        length=_pair(sum(branch.length for branch in one.branches) for one in pieces),
        comes_about=predicted.is_complete or not planned.is_complete,
    )


def _pair(values: Iterable[float]) -> tuple[float, float]:
    first, second = values
    return first, second
