"""The heat plan: per step and member its heats, blows and seconds, in a shop, with low, typical and high.

Planned heats are the author's, predicted ones are worked out here, used ones are what runs counted: three
numbers that are never put in each other's place.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from calculators.hot_work import Forged, HeatLimits, Striking, forged
from procedures.engine.frames import Frame, PartReplay, Replay
from procedures.engine.judging import hearth
from procedures.engine.judging.deeds import family, is_hot, twists, upsets, welds

from .figures import HAMMERS
from .hammers import USUAL_POWER, hammer_for
from .plans import HeatPlan, Need, PartPlan, StepPlan
from .profile import ShopProfile, default
from .ranges import ANVIL_UNSURE, NOBODY, NOTHING, Calibration, Range, exactly, whole_heats, within
from .waiting import waiting_of
from .windows import Limits, heating_seconds, is_left_hot, limits_of, welding_seconds, window_of
from .work import Work, work_of

_WRENCH = 60.0  # W that two arms put into a twist (judgement)
_WELDED = 15.0  # s at the anvil for each welding heat: a few taps, and turning it (judgement)


def heat_plan(
    replayed: Replay,
    profile: ShopProfile | None = None,
    calibration: Calibration = NOBODY,
    by_steel: Mapping[str, Calibration] | None = None,
) -> HeatPlan:
    """Return the heat plan of a replayed procedure, in a usual shop unless another is given.

    `by_steel` are the paces of a person who measured, by the title of the steel; `calibration` is of others.
    """
    shop, own = profile or default(), by_steel or {}
    parts = tuple(
        part_plan(one, shop, own.get(one.start.material.title, calibration)) for one in replayed.parts
    )
    return HeatPlan(shop, calibration, parts)


def part_plan(part: PartReplay, profile: ShopProfile, calibration: Calibration = NOBODY) -> PartPlan:
    """Return the heat plan of one part."""
    steps: list[StepPlan] = []
    hot: StepPlan | None = None  # the last step that left metal hot
    for frame in part.frames:
        step = step_plan(frame, profile, calibration, hot)
        steps.append(step)
        if step.is_hot:
            hot = step
        elif family(frame) != "check":
            hot = None  # cold work takes longer than a heat lasts
    return PartPlan(part.part, tuple(steps))


def step_plan(
    frame: Frame,
    profile: ShopProfile,
    calibration: Calibration = NOBODY,
    before: StepPlan | None = None,
) -> StepPlan:
    """Return the plan of one step; `before` is the step that left metal hot, if any did."""
    if frame.status != "done":
        return StepPlan(frame, "not_done")
    if not goes_in_the_fire(frame):
        return StepPlan(frame, "cold")
    shares = not frame.step.heats and not frame.step.welding_heats and before is not None
    starts_hot = is_left_hot(frame, before.frame if before else None)
    made = _Planning(frame, profile, calibration, starts_hot)
    if frame.welding_heats or welds(frame):
        return made.welded()
    if limits_of(frame, profile) is None or is_only_heated(frame):
        return made.warmed()
    return made.shared(before) if shares and before is not None else made.forged()


def goes_in_the_fire(frame: Frame) -> bool:
    """Whether it is done hot, be it only another part, such as a rivet, that is heated."""
    hot = frame.operation is not None and frame.operation.planned_heat(frame.before) is not None
    return is_hot(frame) or (hot and bool(frame.heats or frame.welding_heats))


def is_only_heated(frame: Frame) -> bool:
    """Whether it is heated for its own sake: heat treatment, and a heat without work."""
    return family(frame) == "treat" or (family(frame) == "prepare" and work_of(frame) is None)


@dataclass(frozen=True)
class _Planning:
    """One hot step being planned."""

    frame: Frame
    profile: ShopProfile
    calibration: Calibration
    starts_hot: bool

    @property
    def members(self) -> int:
        return self.frame.members

    @property
    def usual(self) -> int:
        kind = self.frame.step.kind
        student, practised = kind.usual_heats if kind else (1, 1)
        return student if self.profile.skill == "student" else practised

    # -- forging ---------------------------------------------------------------------------------

    def forged(self) -> StepPlan:
        work = work_of(self.frame)
        limits, done, need = self._needed(work)
        return self._step(limits, work, done, need, self._heats(need))

    def shared(self, leader: StepPlan) -> StepPlan:
        """Plan a step done in the heat of an earlier one: heats only for what does not fit in its rest."""
        work = work_of(self.frame)
        limits, done, need = self._needed(work)
        free = leader.need.energy if leader.need else 0.0
        heats = [
            float(max(whole_heats((free + need.energy) * by) - max(whole_heats(free * by), 1), 0))
            for by in self._factors()
        ]
        found = self._step(limits, work, done, need, Range(*heats).times(self.members))
        return replace(found, shares=True, leader=leader.leader)

    def _needed(self, work: Work | None) -> tuple[Limits | None, Forged | None, Need]:
        limits = limits_of(self.frame, self.profile)
        done = self._done(limits, work) if limits and work else None
        at_once = twists(self.frame) or upsets(self.frame)
        reach = 1 if at_once else hearth.heats_to_reach(self.frame.heated, self.profile.reach)
        return limits, done, Need(done.heats if done else 0.0, reach, max(self.usual, 1))

    def _done(self, limits: Limits, work: Work) -> Forged:
        shop, hammer = self.profile, hammer_for(self.frame, self.profile)
        striking = Striking(hammer.energy, hammer.rate, hammer.efficiency, shop.shaping)
        if work.is_levered:  # a twist takes no blows: two arms at the wrench
            striking = Striking(_WRENCH, 1.0, 1.0, 1.0)
        return forged(work.job, striking, HeatLimits(limits.start, limits.stop, shop.transfer, shop.contact))

    def _factors(self) -> tuple[float, float, float]:
        spread = self.calibration.heats.of(1.0)
        return spread.low, spread.typical, spread.high

    def _heats(self, need: Need) -> Range:
        low, typical, high = (need.heats(by) * self.members for by in self._factors())
        return Range(low, typical, high)

    def _step(
        self, limits: Limits | None, work: Work | None, done: Forged | None, need: Need, heats: Range
    ) -> StepPlan:
        levered = work is not None and work.is_levered
        blows = seconds = NOTHING
        if done:
            blows = NOTHING if levered else self.calibration.blows.of(done.blows)
            seconds = self.calibration.seconds.of(done.seconds)
        window = window_of(self.frame, self.profile)
        times = self._fire(limits, heats)
        return StepPlan(
            self.frame,
            "forged",
            limits=limits,
            hammer=None if levered or not done else hammer_for(self.frame, self.profile),
            work=work,
            forged=done,
            need=need,
            window=window,
            blows=blows.times(self.members),
            hammering=seconds,
            predicted=heats,
            heating=times[0],
            reheating=times[1],
            fire=times[2],
            anvil=seconds.times(self.members) + heats.times(self.profile.transfer),
            waiting=waiting_of(self.frame, limits, seconds.typical, heats.typical) if limits else None,
            starts_hot=self.starts_hot,
            leader=self.frame.key,
        )

    # -- other heats -----------------------------------------------------------------------------

    def welded(self) -> StepPlan:
        """Plan a weld: its heats are those it usually takes; what shuts it is the heat and not the work."""
        kind = self.frame.step.kind
        usual = kind.usual_welding_heats if kind else 1
        heats = exactly(float(usual + (self.usual if self.frame.step.heats else 0) * self.members))
        band = self.frame.before.material.welding or self.frame.before.material.forging
        limits = Limits(band[1], band[0])
        first, again, total = self._fire(limits, heats, self.profile.stop)
        struck = within(_WELDED * usual, ANVIL_UNSURE)
        return StepPlan(
            self.frame,
            "welded",
            limits=limits,
            need=Need(0.0, 0, usual),
            predicted=heats,
            heating=first,
            reheating=again,
            fire=total,
            anvil=struck,
            welding_window=welding_seconds(self.frame),
            starts_hot=self.starts_hot,
            leader=self.frame.key,
        )

    def warmed(self) -> StepPlan:
        """Plan what is only warmed, for wax or tempering: heats and time in the fire, no work."""
        planned = self.frame.operation.planned_heat(self.frame.before) if self.frame.operation else None
        heats = exactly(float(max(self.usual, 1) * self.members))
        limits = Limits(planned[1], planned[0]) if planned else None
        first, again, total = self._fire(limits, heats)
        return StepPlan(
            self.frame,
            "warmed",
            limits=limits,
            need=Need(0.0, 0, max(self.usual, 1)),
            window=window_of(self.frame, self.profile),
            predicted=heats,
            heating=first,
            reheating=again,
            fire=total,
            starts_hot=self.starts_hot,
            leader=self.frame.key,
        )

    def _fire(
        self, limits: Limits | None, heats: Range, left: float | None = None
    ) -> tuple[Range, Range, Range]:
        """Return the time [s] of the first heat, of one more, and of all of them.

        Each member is heated from cold at first; where the step before left the metal hot, its first heat is
        like the others. They begin where the last one ended, or at `left` [°C].
        """
        if limits is None:
            return NOTHING, NOTHING, NOTHING
        first = heating_seconds(self.frame, self.profile, limits.start)
        again = heating_seconds(self.frame, self.profile, limits.start, left or limits.stop)
        if self.starts_hot:
            first = again
        cold = 0 if self.starts_hot else self.members
        values = [
            max(min(count, cold), 0) * one + max(count - cold, 0) * more
            for count, one, more in zip(
                (heats.low, heats.typical, heats.high),
                (first.low, first.typical, first.high),
                (again.low, again.typical, again.high),
                strict=True,
            )
        ]
        return first, again, Range(*values)


def with_each_hammer(step: StepPlan, profile: ShopProfile) -> list[StepPlan]:
    """Return the same step struck with each hammer that suits it: the shop's own, or a usual one of its kind.

    Without what was hot before it: for its blows and seconds, which do not hang on that.
    """
    found = []
    for kind in HAMMERS:
        shop = replace(
            profile,
            hammer=kind,
            striker=kind == "striker",
            power_energy=profile.power_energy or USUAL_POWER,
        )
        other = step_plan(step.frame, shop)
        if other.hammer is not None and other.hammer.title == HAMMERS[kind]:
            found.append(other)
    return found
