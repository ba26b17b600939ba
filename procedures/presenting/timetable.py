"""The minutes a class needs for each step, taken from the heat plan: the one place where the two meet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from procedures.engine.judging.deeds import family, welds
from procedures.engine.parameters.params import PartParam
from procedures.engine.replay import Frame, PartReplay, Replay
from procedures.planning.hammers import USUAL_POWER, can_be_powered
from procedures.planning.heat_plan import part_plan
from procedures.planning.plans import PartPlan, StepPlan
from procedures.planning.profile import ShopProfile, default
from procedures.planning.ranges import Range
from procedures.timetable import ANVIL, POWER, VICE, Minutes, StepTime

UNSURE = 1.7  # times and divided by: cold work, as blows and heats are
HELPED = {
    "nobody": "no step",
    "welds": "welds and rivets",
    "named": "all that name one",
}
_JOINED = ("rivet", "collar")


@dataclass(frozen=True)
class Pace:
    """How a class works. Minutes of a cold step, and lost in each heat to walking, brushing and asking.

    `powered` are the steps done under the power hammer, `helped` is one of HELPED. With `as_planned` each
    step takes the heats that its author planned, else those predicted in the shop `profile`.
    """

    cold: float = 3.0
    lost: float = 0.5
    powered: frozenset[str] = frozenset()
    helped: str = "nobody"
    as_planned: bool = False
    profile: ShopProfile = field(default_factory=lambda: replace(default(), skill="student"))

    @property
    def under_power(self) -> ShopProfile:
        """The same shop at its power hammer."""
        energy = self.profile.power_energy or USUAL_POWER
        return replace(self.profile, power_energy=energy, hammer="power")


Gates = Mapping[str, Mapping[int, str]]  # by the key of the part, then by the number of the step


def step_times(replayed: Replay, pace: Pace, gates: Gates) -> list[StepTime]:
    """Return the minutes of every step for one piece, parts first that others are made of, each as often."""
    found: list[StepTime] = []
    for part in _in_order(replayed):
        by_hand = part_plan(part, pace.profile)
        powered = part_plan(part, pace.under_power) if pace.powered else by_hand
        looks = gates.get(part.part.key, {})
        steps = [
            _step_time(_chosen(at, by_hand, powered, pace), pace, looks.get(frame.number, ""))
            for at, frame in enumerate(part.frames)
        ]
        found += steps * part.part.quantity
    return found


def key_of(frame: Frame) -> str:
    """Return what a step is called in a timetable: its part and its own key."""
    return f"{frame.part.key}.{frame.key}"


def _in_order(replayed: Replay) -> Iterator[PartReplay]:
    """Yield the parts, those that another brings in before it."""
    done: set[str] = set()

    def finished(part: PartReplay) -> Iterator[PartReplay]:
        if part.part.key in done:
            return
        done.add(part.part.key)
        for key in _brought_in(part):
            other = replayed.part(key)
            if other is not None:
                yield from finished(other)
        yield part

    for one in replayed.parts:
        yield from finished(one)


def _brought_in(part: PartReplay) -> list[str]:
    operations = [one.operation for one in part.frames if one.operation]
    return [
        key
        for one in operations
        for name, param in one.params().items()
        if isinstance(param, PartParam) and isinstance(key := getattr(one, name), str)
    ]


def _chosen(at: int, by_hand: PartPlan, powered: PartPlan, pace: Pace) -> tuple[StepPlan, bool]:
    """Return the plan of a step, and whether it is done under the power hammer."""
    frame = by_hand.steps[at].frame
    under = key_of(frame) in pace.powered and can_be_powered(frame)
    return (powered if under else by_hand).steps[at], under


def _step_time(chosen: tuple[StepPlan, bool], pace: Pace, gate: str) -> StepTime:
    step, under = chosen
    frame = step.frame
    heats = _heats(step, pace)
    return StepTime(
        key=key_of(frame),
        title=frame.title,
        heats=heats,
        fire=_each(step.fire, step.predicted, heats),
        work=_work(step, pace, heats),
        place=POWER if under else _place(step),
        helper=_is_helped(frame, pace),
        gate=gate,
    )


def _heats(step: StepPlan, pace: Pace) -> tuple[int, int, int]:
    if not step.is_hot:
        return (0, 0, 0)
    if pace.as_planned:
        return (step.planned,) * 3
    predicted = step.predicted
    return round(predicted.low), round(predicted.typical), round(predicted.high)


def _each(total: Range, predicted: Range, heats: tuple[int, int, int]) -> Minutes:
    """Return the minutes of one heat, from seconds in all predicted heats."""
    counts = (predicted.low, predicted.typical, predicted.high)
    spent = (total.low, total.typical, total.high)
    low, typical, high = (
        seconds / count / 60 if count and many else 0.0
        for seconds, count, many in zip(spent, counts, heats, strict=True)
    )
    return low, typical, high


def _work(step: StepPlan, pace: Pace, heats: tuple[int, int, int]) -> Minutes:
    """Return the minutes of work in each heat, or in all where there is none of its own."""
    if not step.is_hot:
        cold = pace.cold if step.kind == "cold" else 0.0
        return cold / UNSURE, cold, cold * UNSURE
    spent = (step.anvil.low, step.anvil.typical, step.anvil.high)
    low, typical, high = (
        seconds / 60 / max(count, 1) + (pace.lost if count else 0.0)
        for seconds, count in zip(spent, heats, strict=True)
    )
    return low, typical, high


def _place(step: StepPlan) -> str:
    """Return where a step is worked: at the vice where that is its first tool; cold, at the bench."""
    kind = step.frame.step.kind
    if kind is None or family(step.frame) in ("check", "treat"):
        return ""
    if kind.tools and kind.tools[0].startswith("vice"):
        return VICE
    return ANVIL if step.kind in ("forged", "welded") else ""


def _is_helped(frame: Frame, pace: Pace) -> bool:
    kind = frame.step.kind
    if kind is None or not kind.helper or pace.helped == "nobody":
        return False
    return pace.helped == "named" or welds(frame) or kind.id in _JOINED
