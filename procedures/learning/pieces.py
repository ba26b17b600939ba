"""One piece that was forged, as readings: what was measured beside what was predicted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from procedures.calibration import BeliefError, Reading, loss_by_weight, ratio_reading, spread_reading
from procedures.predicting import PIECE, Place

from .expected import Expected

G = 1000.0  # in a kilogram


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
