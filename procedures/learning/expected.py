"""What a shop predicts of the steps of a procedure, by nobody's pace, beside its author's planned heats."""

from __future__ import annotations

from dataclasses import dataclass

from procedures.engine.document import Document
from procedures.engine.frames import Frame
from procedures.engine.replay import replay
from procedures.planning.heat_plan import heat_plan
from procedures.planning.plans import StepPlan
from procedures.planning.profile import ShopProfile
from procedures.predicting import across

_WIDER = 1.02  # times: less spread than this is not measured


@dataclass(frozen=True, slots=True)
class Expected:
    """What is predicted of one step, over all its members: heats, blows, seconds; nothing where it is cold.

    `planned` are its author's heats, `in_fire` the mass [kg] that one of them makes hot. `bare` is what the
    piece weighs after it where the fire takes nothing, `left` where it takes the usual [kg]; `width` before
    and after [mm], where spread is predicted.
    """

    part: str
    step: str
    number: int
    title: str
    steel: str
    heats: float
    planned: int
    blows: float
    seconds: float
    in_fire: float
    bare: float
    left: float
    width: tuple[float, float] | None = None


def expected(document: Document, shop: ShopProfile) -> list[Expected]:
    """Return what is predicted of every step that comes about, in order."""
    replayed, nominal = replay(document), replay(document, nominal=True)
    plan = heat_plan(replayed, shop)
    found = []
    for part in plan.parts:
        twin = nominal.part(part.part.key)
        bare = {one.key: one.after.mass for one in twin.frames} if twin else {}
        found += [_expected(one, bare.get(one.key, 0.0)) for one in part.steps if one.kind != "not_done"]
    return found


def _expected(step: StepPlan, bare: float) -> Expected:
    frame = step.frame
    return Expected(
        part=frame.part.key,
        step=step.key,
        number=frame.number,
        title=frame.title,
        steel=frame.before.material.title,
        heats=step.predicted.typical,
        planned=step.planned,
        blows=step.blows.typical,
        seconds=step.hammering.typical * frame.members,
        in_fire=mass_in_fire(frame),
        bare=bare,
        left=frame.after.mass,
        width=_spread(frame),
    )


def mass_in_fire(frame: Frame) -> float:
    """Return the mass [kg] that one heat makes hot: of one member, where each is heated by itself."""
    piece = frame.before
    known = [one for one in frame.heated if piece.has_branch(one.branch)]
    volume = sum(piece.branch(one.branch).volume_between(one.low, one.high) for one in known)
    branches = len({one.branch for one in known})
    return piece.mass_of(volume) / (min(branches, frame.members) or 1)


def _spread(frame: Frame) -> tuple[float, float] | None:
    """Return the widths before and after [mm], where the width that comes is predicted from a bite."""
    if getattr(frame.operation, "bite", None) is None or not (frame.found and frame.left):
        return None
    span, then = frame.worked[0], frame.after.worked[0]
    before = frame.before.branch(span.branch).sections_along(span.low, span.high)
    after = frame.after.branch(then.branch).sections_along(then.low, then.high)
    widths = max(across(one)[0] for one in before), max(across(one)[0] for one in after)
    return widths if widths[1] > widths[0] * _WIDER else None
