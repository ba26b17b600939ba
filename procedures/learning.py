"""What a piece that was forged tells of a shop: readings, from what was measured beside what was predicted.

Pure: no database. Predicted is what the replay and the heat plan say in the shop as it is now, by nobody's
pace; planned heats are their author's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from procedures.calibration import (
    QUANTITIES,
    Asked,
    Belief,
    BeliefError,
    Learner,
    Reading,
    Subject,
    loss_by_weight,
    ratio_reading,
    spread_reading,
)
from procedures.engine.document import Document
from procedures.engine.frames import Frame
from procedures.engine.replay import replay
from procedures.planning.heat_plan import heat_plan
from procedures.planning.plans import PartPlan, StepPlan
from procedures.planning.profile import ShopProfile
from procedures.planning.ranges import Calibration, Correction
from procedures.predicting import PIECE, Place, across

_WIDER = 1.02  # times: less spread than this is not measured
G = 1000.0  # in a kilogram


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
        in_fire=_in_fire(frame),
        bare=bare,
        left=frame.after.mass,
        width=_spread(frame),
    )


def _in_fire(frame: Frame) -> float:
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


# -- what was measured -------------------------------------------------------------------------------


@dataclass(frozen=True)
class Forged:
    """What is known of one piece. `heats` by (part, step) and `in_all` are those used; sizes mm and kg.

    `other_bar` is set where it was made from another bar than the procedure's.
    """

    key: int
    heats: Mapping[tuple[str, str], int]
    in_all: int | None
    sizes: Mapping[Place, float]
    counted: Sequence[Mapping[str, Any]]
    answers: Mapping[str, bool]
    other_bar: bool = False


@dataclass(frozen=True, slots=True)
class Learnt:
    """One reading of one piece: what was predicted and what came, in `unit`, and what becomes of it.

    `state` is "counts", "asked", "left out", or "refused" with the reason in `why`.
    """

    piece: int
    key: str
    quantity: str
    steel: str
    label: str
    predicted: float
    actual: float
    unit: str
    reading: Reading | None = None
    state: str = "counts"
    why: str = ""


def readings(forged: Forged, plan: Sequence[Expected]) -> list[Learnt]:
    """Return what one piece says, before anybody looked whether it is likely."""
    return [*_heats(forged, plan), *_counted(forged, plan), *_losses(forged, plan), *_spreads(forged, plan)]


def _heats(forged: Forged, plan: Sequence[Expected]) -> Iterator[Learnt]:
    """Yield the heats of a piece by steel: of the steps that counted any, else of all together."""
    by_steel: dict[str, list[Expected]] = {}
    for one in plan:
        if (not forged.heats or (one.part, one.step) in forged.heats) and one.heats > 0:
            by_steel.setdefault(one.steel, []).append(one)
    for steel, steps in by_steel.items():
        if forged.heats:
            actual = float(sum(forged.heats[one.part, one.step] for one in steps))
        elif forged.in_all is not None and len(by_steel) == 1:
            actual = float(forged.in_all)
        else:
            return
        predicted = sum(one.heats for one in steps)
        key = f"heats:{steel}"
        said = Learnt(forged.key, key, "heats", steel, "Heats", predicted, actual, "heats")
        yield _read(said, lambda a=actual, p=predicted: ratio_reading("heats", a, p))


def _counted(forged: Forged, plan: Sequence[Expected]) -> Iterator[Learnt]:
    by_step = {(one.part, one.step): one for one in plan}
    for one in forged.counted:
        step = by_step.get((one["part"], one["step"]))
        if step is None:
            continue
        for quantity, predicted in (("blows", step.blows), ("seconds", step.seconds)):
            actual = one.get(quantity)
            if actual is None or not predicted:
                continue
            key = f"{quantity}:{step.part}:{step.step}"
            label = f"Step {step.number}, {step.title.lower()}"
            unit = {"blows": "blows", "seconds": "s"}[quantity]
            said = Learnt(forged.key, key, quantity, step.steel, label, predicted, float(actual), unit)
            yield _read(said, lambda q=quantity, a=float(actual), p=predicted: ratio_reading(q, a, p))


def _losses(forged: Forged, plan: Sequence[Expected]) -> Iterator[Learnt]:
    """Yield the loss of a heat from the last weight of each part that was weighed."""
    if forged.other_bar:
        return
    last: dict[str, tuple[int, float]] = {}
    order = {(one.part, one.step): at for at, one in enumerate(plan)}
    for place, actual in forged.sizes.items():
        at = order.get((place.part, place.step))
        if place.kind == PIECE and at is not None and at >= last.get(place.part, (-1, 0.0))[0]:
            last[place.part] = at, actual
    for part, (at, weighed) in last.items():
        step = plan[at]
        heats, hot = in_the_fire(plan, part, at, forged.heats)
        if not heats:
            continue
        taken = step.bare - weighed
        label = f"Weighed after step {step.number}, {step.title.lower()}"
        key, predicted = f"loss:{part}", (step.bare - step.left) * G
        said = Learnt(forged.key, key, "loss", step.steel, label, predicted, taken * G, "g")
        yield _read(said, lambda m=hot, t=taken, n=heats: loss_by_weight(m * G, (m - t) * G, n))


def in_the_fire(
    plan: Sequence[Expected], part: str, last: int, used: Mapping[tuple[str, str], int]
) -> tuple[int, float]:
    """Return the heats of a part up to a step, and the mass [kg] that each of them makes hot, on average.

    Heats are those used where they were counted, else the author's.
    """
    heats, hot = 0, 0.0
    for one in plan[: last + 1]:
        if one.part == part:
            count = used.get((one.part, one.step), one.planned)
            heats, hot = heats + count, hot + count * one.in_fire
    return heats, hot / heats if heats else 0.0


def _spreads(forged: Forged, plan: Sequence[Expected]) -> Iterator[Learnt]:
    for step in plan:
        actual = next(
            (
                value
                for place, value in forged.sizes.items()
                if (place.part, place.step, place.kind, place.quantity)
                == (step.part, step.step, "run", "width")
            ),
            None,
        )
        if step.width is None or actual is None:
            continue
        before, after = step.width
        label = f"Width after step {step.number}, {step.title.lower()}"
        key = f"spread:{step.part}:{step.step}"
        said = Learnt(forged.key, key, "spread", step.steel, label, after, actual, "mm")
        yield _read(said, lambda a=actual, b=before, p=after: spread_reading(b, a, p))


def _read(said: Learnt, make: Any) -> Learnt:
    made = asdict(said)
    try:
        made["reading"] = make()
    except BeliefError as error:
        made |= {"state": "refused", "why": str(error)}
    return Learnt(**made)


# -- what follows ------------------------------------------------------------------------------------


class Lessons:
    """What one person's pieces in one shop come to: every reading with its fate, and the beliefs."""

    def __init__(self, pieces: Iterable[tuple[Forged, Sequence[Expected]]]) -> None:
        self._learner = Learner()
        self._subjects: dict[Subject, None] = {}
        self.readings = [
            self._taken_in(one, forged.answers) for forged, plan in pieces for one in readings(forged, plan)
        ]

    def _taken_in(self, one: Learnt, answers: Mapping[str, bool]) -> Learnt:
        if one.reading is None:
            return one
        subject = Subject(one.quantity, steel=one.steel).key
        self._subjects[subject] = None
        answer = answers.get(one.key)
        if answer is False:
            return _as(one, "left out")
        asked = self._learner.learn(subject, one.reading)
        if asked is None:
            return one
        if answer is None:
            return _as(one, "asked", _why(asked))
        self._learner.answer(asked, keep=True)
        return one

    @property
    def beliefs(self) -> list[tuple[Subject, Belief]]:
        """What is believed of each quantity and steel of which anything was read, in their usual order."""
        order = list(QUANTITIES)
        found = sorted(self._subjects, key=lambda one: (order.index(one.quantity), one.steel))
        return [(one, self._learner.belief(one)) for one in found]

    def belief(self, quantity: str, steel: str = "") -> Belief:
        """Return what is believed of a quantity of a steel."""
        return self._learner.belief(Subject(quantity, steel=steel))

    @property
    def asked(self) -> list[Learnt]:
        """The readings that wait for an answer."""
        return [one for one in self.readings if one.state == "asked"]

    def calibrations(self) -> dict[str, Calibration]:
        """Return the corrections that narrow a heat plan, by steel; none of a steel never measured."""
        steels = {subject.steel for subject, belief in self.beliefs if belief.n}
        return {steel: self._calibration(steel) for steel in steels if steel}

    def _calibration(self, steel: str) -> Calibration:
        return Calibration(*(self._correction(one, steel) for one in ("blows", "seconds", "heats")))

    def _correction(self, quantity: str, steel: str) -> Correction:
        belief = self.belief(quantity, steel)
        if not belief.n:
            return Correction()
        # One more piece of work scatters as each reading did, so a plan is never surer than that.
        return Correction(belief.mean, belief.predictive_sd(QUANTITIES[quantity].reading_sd), belief.n)


def _as(one: Learnt, state: str, why: str = "") -> Learnt:
    return Learnt(**{name: getattr(one, name) for name in Learnt.__slots__} | {"state": state, "why": why})


def _why(asked: Asked) -> str:
    return (
        f"{asked.strangeness:.1f} standard deviations from what was to be expected. "
        "A slip of the pen, another steel, or really so?"
    )


def scale_as_learnt(part: PartPlan, belief: Belief) -> tuple[float, float, float]:
    """Return the scale [kg] that a part loses in its predicted heats: likely least, typical, likely most.

    By a belief about the loss of a heat; four times in five the truth is between. Less than nothing is none.
    """
    hot = [(round(one.predicted.typical), _in_fire(one.frame)) for one in part.steps if one.is_hot]
    low, high = belief.interval(0.8)

    def lost(share: float) -> float:
        return sum(mass * (1 - (1 - min(max(share, 0.0), 1.0)) ** heats) for heats, mass in hot)

    return lost(low), lost(belief.mean), lost(high)
