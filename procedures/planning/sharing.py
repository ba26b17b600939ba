"""Steps that share a heat: as their author has it, and where two or more would fit in one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .plans import PartPlan, StepPlan
from .ranges import whole_heats
from .windows import is_left_hot

_FULL = 0.9  # of a heat: more is no suggestion to make to anybody
_ALSO_CHANGING = 5.0  # s to change tools between two steps (judgement)


@dataclass(frozen=True, slots=True)
class Sharing:
    """Steps that may be done in one heat, with the seconds they take and the seconds it allows."""

    steps: tuple[StepPlan, ...]
    seconds: float
    allows: float


def groups(part: PartPlan) -> Iterator[tuple[StepPlan, ...]]:
    """Yield the steps of a part, those together that their author does in one heat."""
    group: list[StepPlan] = []
    for step in part.steps:
        if group and not step.shares:
            yield tuple(group)
            group = []
        group.append(step)
    if group:
        yield tuple(group)


def could_share(part: PartPlan) -> Iterator[Sharing]:
    """Yield neighbours that each plan a heat of their own and would fit in one."""
    run: list[StepPlan] = []
    for step in (*part.steps, None):
        if step is not None and _is_short(step) and _follows(run, step):
            run.append(step)
            continue
        if len(run) > 1:
            yield _sharing(run)
        run = [step] if step is not None and _is_short(step) else []


def _is_short(step: StepPlan) -> bool:
    one = step.frame.members == 1 and step.planned > 0 and step.need is not None
    return (
        step.kind == "forged"
        and one
        and step.forged is not None
        and step.need is not None
        and max(step.need.reach, step.need.craft, whole_heats(step.need.energy)) <= 1
    )


def _follows(run: list[StepPlan], step: StepPlan) -> bool:
    if not run or not is_left_hot(step.frame, run[-1].frame):
        return False
    tried = _sharing([*run, step])
    return tried.seconds <= _FULL * tried.allows and _warm_enough(run[0], step)


def _warm_enough(first: StepPlan, step: StepPlan) -> bool:
    """Whether a later step of the heat is not one that wants it hotter than the first begins."""
    return bool(first.limits and step.limits and step.limits.start <= first.limits.start)


def _sharing(run: list[StepPlan]) -> Sharing:
    seconds = sum(one.hammering.typical for one in run) + _ALSO_CHANGING * (len(run) - 1)
    allows = min((one.forged.last for one in run if one.forged), default=0.0)
    return Sharing(tuple(run), seconds, allows)
