"""The draft: how much bar every feature takes by the whole replay, and the procedure that comes of it.

Every feature works its own metal alone, between marks. So how much bar each takes is found for all at once:
the whole is replayed, every feature tells by how much it missed, and its own secant moves it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from calculators.sections import SectionError
from calculators.wording import say
from procedures.engine.document import Document
from procedures.engine.finding import Finding, Level
from procedures.engine.frames import Frame, PartReplay, Replay
from procedures.engine.mend import Mend
from procedures.engine.replay import replay, replay_part
from procedures.engine.scale import Estimate

from .description import Description, Layout
from .feature import Feature
from .plan import Plan
from .refusing import Refusal, Undraftable, laid_out
from .seen import Size
from .setting import PART

EXACT = 1e-7  # mm: nearer than that a boundary is where a mark is
ROUNDS = 40
MENDS = 12
MORE = 1.15  # times the bar to begin with, where a step is stopped for want of it
MENDED = ("order.", "access.", "holding.", "heat.too_few_heats")  # codes of what a draft puts right itself


@dataclass(frozen=True)
class Settled:
    """How much bar each feature takes, by its number [mm], and the part replayed with it."""

    taken: Mapping[int, float]
    part: PartReplay


@dataclass(frozen=True)
class Row:
    """A feature with the bar it takes [mm], low, typical and high, and what comes of it."""

    number: int
    feature: Feature
    low: float
    typical: float
    high: float
    sizes: tuple[Size, ...]


@dataclass(frozen=True)
class Draft:
    """A drafted procedure. `document` is what becomes the reader's own."""

    layout: Layout
    document: Document
    replayed: Replay
    rows: tuple[Row, ...]
    bars: Mapping[Estimate, float]  # the bar it takes with the saw's cut [mm]

    @property
    def part(self) -> PartReplay:
        """The part replayed."""
        return self.replayed.parts[0]

    @cached_property
    def cautions(self) -> tuple[tuple[Frame, Finding], ...]:
        """What the checks warn of, with its frame."""
        return tuple((one, found) for one in self.part.frames for found in one.of_level(Level.CAUTION))


def drafted(description: Description) -> Draft:
    """Return the draft of a described part. Raises Undraftable."""
    try:
        return _drafted(description)
    except SectionError as fault:  # sizes too far apart for any section between them
        raise Undraftable([Refusal(None, "", say("{fault}", fault=str(fault)))]) from fault


def _drafted(description: Description) -> Draft:
    plan = _lettered(description)
    plan, settled, replayed = _mended(plan)
    document = plan.document(settled.taken, bare=True)
    found: dict[Estimate, Settled] = {"low": settled, "typical": settled, "high": settled}
    for estimate in ("low", "high"):
        found[estimate] = settle(plan, estimate, settled.taken)
    bars = {
        name: sum(one.taken[n] for n in plan.layout.metal) + description.kerf for name, one in found.items()
    }
    return Draft(plan.layout, document, replayed, tuple(_rows(plan, found)), bars)


def _lettered(description: Description) -> Plan:
    """Return the plan in which only the marks that are used have letters, without gaps."""
    plan = Plan(laid_out(description))
    used = plan.marks_used(plan.guesses())
    layout = plan.layout
    unmarked = frozenset(n for n in layout.metal if layout.settings[n].low not in used)
    return Plan(laid_out(description, unmarked))


def _rows(plan: Plan, found: Mapping[Estimate, Settled]) -> Iterator[Row]:
    for number, one in enumerate(plan.layout.features):
        low, typical, high = (
            found[name].taken[number] if one.takes_bar else 0.0 for name in ("low", "typical", "high")
        )
        seen = plan.seen(found["typical"].part, number)
        sizes = tuple(one.sizes(plan.layout.settings[number], seen))
        yield Row(number, one, low, typical, high, sizes)


# -- how much bar each takes -------------------------------------------------------------------------


def settle(plan: Plan, estimate: Estimate = "typical", start: Mapping[int, float] | None = None) -> Settled:
    """Return the bar each feature takes so that all come out as described. Raises Undraftable."""
    guesses = dict(start or plan.guesses())
    try:
        return _settled(plan, estimate, guesses)
    except Undraftable:
        return _settled(plan, estimate, {number: MORE * one for number, one in guesses.items()})


def _settled(plan: Plan, estimate: Estimate, guesses: Mapping[int, float]) -> Settled:
    taken = dict(guesses)
    slopes = {number: _slope(plan, number, value) for number, value in taken.items()}
    before: dict[int, tuple[float, float]] = {}
    misses: dict[int, float] = {}
    for _ in range(ROUNDS):
        part = replay_part(plan.document(taken), PART, estimate=estimate)
        if not part.is_complete:
            raise Undraftable([_stopped(plan, part)])
        misses = plan.misses(part, taken)
        if all(abs(miss) <= EXACT for miss in misses.values()):
            return Settled(taken, part)
        for number, miss in misses.items():
            if abs(miss) <= EXACT / 10:
                continue
            slopes[number] = _secant(slopes[number], before.get(number), (taken[number], miss))
            before[number] = (taken[number], miss)
            taken[number] = max(taken[number] - miss / slopes[number], taken[number] / 5)
    worst = max(misses, key=lambda number: abs(misses[number]))
    raise Undraftable([Refusal(worst, "", say("No length of bar makes it come out so."))])


def _slope(plan: Plan, number: int, taken: float) -> float:
    """Return about how much longer a feature comes out for a millimetre more of bar."""
    feature = plan.layout.features[number]
    long = feature.long(plan.layout.settings[number])
    return long / taken if taken > 0 and long > 0 else 1.0


def _secant(slope: float, before: tuple[float, float] | None, now: tuple[float, float]) -> float:
    if before is None or abs(now[0] - before[0]) < 1e-12:
        return slope
    found = (now[1] - before[1]) / (now[0] - before[0])
    return found if slope / 20 < found < 20 * slope else slope


def _stopped(plan: Plan, part: PartReplay) -> Refusal:
    """Return why a step of the draft is stopped, beside the feature that asks for it."""
    frame = next(one for one in part.frames if one.status == "stopped")
    finding = next(one for one in frame.findings if one.level == Level.STOP)
    planned = next((one for one in plan.planned(plan.guesses()) if one.key == frame.key), None)
    words = say("{title}: {why} {hint}", title=frame.title, why=finding.message, hint=finding.hint or "")
    if planned is None:
        return Refusal(None, "", words)
    feature = plan.layout.features[planned.number]
    name = planned.work.part_of.get(finding.field, "")
    return Refusal(planned.number, name if name in feature.params() else "", words)


# -- what the rules put right ------------------------------------------------------------------------


def _mended(plan: Plan) -> tuple[Plan, Settled, Replay]:
    """Return the plan with its order, heats and tongs as the rules want them."""
    settled = settle(plan)
    done: set[tuple[str, str, str]] = set()
    for _ in range(MENDS):
        replayed = replay(plan.document(settled.taken, bare=True))
        mend = next((one for one in _mends(replayed) if one[:3] not in done), None)
        if mend is None:
            break
        done.add(mend[:3])
        mended = plan.mended(mend[3], settled.taken)
        try:
            settled = settle(mended, start=settled.taken)
            plan = mended
        except Undraftable:
            continue  # what the rule asks for cannot be done here: its caution stands
    return plan, settled, replay(plan.document(settled.taken, bare=True))


def _mends(replayed: Replay) -> Iterator[tuple[str, str, str, Mend]]:
    for frame in replayed.parts[0].frames:
        for one in frame.findings:
            mend = one.mending(frame.key)
            if mend is not None and one.code.startswith(MENDED):
                yield one.code, frame.key, str(mend.label), mend
