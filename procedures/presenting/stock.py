"""The stock page: the answer, the bar to mark out, and what else there is to choose."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from calculators.bar_sizes import LIMITS_SOURCE, StockBar, stock_bars
from calculators.sections import Section
from calculators.wording import Sentence, UnitSystem, say
from procedures.engine.document import Document, Part
from procedures.engine.frames import Frame, PartReplay, Replay
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.replan import near as near_enough
from procedures.engine.replay import replay, replay_part
from procedures.planning.heat_plan import part_plan
from procedures.planning.plans import PartPlan
from procedures.planning.profile import ShopProfile, default
from procedures.stock.choosing import NEAREST, Choice, choices, near
from procedures.stock.explaining import Hindrance, Kept, hindrance, kept
from procedures.stock.rebasing import Change, changes, rebased
from procedures.stock.solving import Answer, NoStock, solve
from procedures.stock.target import Target
from procedures.stock.tolerance import MOST_SIZES, Effect, Spread, effects, spread
from procedures.stock.unknown import NoSuchSize, Unknown, step_unknowns

MOST_EFFECTS = 6
MOST_STEPS = 4000  # replayed to try given sizes or bars, so that a long procedure is answered in time
REPLAYS_A_BAR = 12


@dataclass(frozen=True)
class StockWish:
    """What is asked: targets of a part, what to solve for, and the bar there is (None: the plan's).

    `price` is that of a kilogram of bar, or of a pound to a reader of inches. Work is told for `shop`, and
    the bars `held` there are tried first.
    """

    part: str
    targets: tuple[Target, ...]
    unknown: Unknown = field(default_factory=Unknown)
    section: Section | None = None
    same_metal: bool = False
    price: float | None = None
    shop: ShopProfile = field(default_factory=default)
    held: tuple[StockBar, ...] = ()


class StockAnswer:
    """The answer to a wish, reckoned when it is first looked at."""

    def __init__(self, document: Document, units: UnitSystem, wish: StockWish, *, nominal: bool) -> None:
        self.units = units
        self.wish = wish
        self.nominal = nominal
        self.planned_document = document
        self.hindrances: list[tuple[Target, Hindrance]] = []
        self.document = document
        if wish.section is not None:
            self.document = rebased(
                document, wish.part, wish.section, same_metal=wish.same_metal, nominal=nominal
            )

    @property
    def target(self) -> Target:
        """What is asked for first."""
        return self.wish.targets[0]

    @cached_property
    def planned(self) -> PartReplay:
        """The part as planned."""
        return replay_part(self.planned_document, self.wish.part, nominal=self.nominal)

    @cached_property
    def answers(self) -> tuple[Answer | None, ...]:
        """The stock for each target by itself; None where there is none, with its hindrance told."""
        return tuple(self._answer(one) for one in self.wish.targets)

    def _answer(self, target: Target) -> Answer | None:
        wish = self.wish
        try:
            return solve(self.document, wish.part, target, wish.unknown, nominal=self.nominal)
        except NoStock as fault:
            what = wish.unknown.said(self.planned.part)
            self.hindrances.append((target, hindrance(fault, target, what)))
        except NoSuchSize as fault:
            self.hindrances.append((target, Hindrance(say("{fault}", fault=str(fault)))))
        return None

    @property
    def answer(self) -> Answer | None:
        """The stock for the first target."""
        return self.answers[0]

    @property
    def fight(self) -> Sentence | None:
        """Why two targets do not come out of one bar, where they do not."""
        if len(self.answers) < 2 or None in self.answers:
            return None
        first, second = (one.typical.value for one in self.answers if one)
        if abs(first - second) <= near_enough(min(first, second)) / 5:
            return None
        one, two = self.wish.targets
        frame = next((f for f in reversed(self.planned.frames) if _sets(f, one) or _sets(f, two)), None)
        tied = say("")
        if frame is not None:
            tied = say(
                " What ties them is step {number:count}, {title}: give it otherwise, or leave one open.",
                number=frame.number,
                title=frame.title.lower(),
            )
        return say(
            "These two fight: {one} takes {first:length}, and {two} takes {second:length}.{tied}",
            one=one.said(self.planned),
            first=first,
            two=two.said(self.planned),
            second=second,
            tied=tied,
        )

    # -- the bar it comes to ---------------------------------------------------------------------

    @cached_property
    def solved(self) -> Document | None:
        """The document with the stock that was found."""
        return self.answer.typical.trial.document if self.answer else None

    @cached_property
    def replayed(self) -> Replay | None:
        """The whole procedure replayed with it."""
        return replay(self.solved, nominal=self.nominal) if self.solved else None

    @property
    def part(self) -> Part | None:
        """The part with it."""
        return self.solved.part(self.wish.part) if self.solved else None

    @property
    def part_replayed(self) -> PartReplay | None:
        """The part replayed with it."""
        return self.replayed.part(self.wish.part) if self.replayed else None

    @property
    def is_length(self) -> bool:
        """Whether the length of the bar was solved for."""
        return self.wish.unknown.kind == "length"

    def said(self, value: float) -> str:
        """Say what was unknown: a length, or a size of a section."""
        size = self.wish.unknown.kind in ("size", "width", "thickness")
        return self.units.size(value) if size else self.units.length(value)

    @property
    def bar_words(self) -> str:
        """The bar to start with: "□20 mm × 396 mm"."""
        part = self.part
        return f"{self.units.section(part.section)} × {self.units.length(part.length)}" if part else ""

    # -- what else -------------------------------------------------------------------------------

    @cached_property
    def kept(self) -> tuple[Kept, ...]:
        """What the steps are given by length, and keep."""
        return tuple(kept(self.part_replayed or self.planned))

    @cached_property
    def instead(self) -> tuple[tuple[str, Sentence], ...]:
        """What can be solved for instead, where a step settles the size: (key, words)."""
        steps = {one.step for _, one in self.hindrances if one.step}
        part = self.planned.part
        found: list[tuple[str, Sentence]] = []
        for step in part.steps:
            if step.key in steps or (steps and step.operation == "mark_out"):
                ones = step_unknowns(part, step.key)
                found += [("/".join((step.key, *map(str, one.path))), one.said(part)) for one in ones]
        return tuple(found)

    @property
    def _replays(self) -> int:
        """How many replays of the part there is time for."""
        return MOST_STEPS // max(len(self.planned.frames), 1)

    @cached_property
    def choices(self) -> tuple[Choice, ...]:
        """The bars held and the usual ones near the plan's, each worked through the procedure."""
        section = self.planned.part.section
        held = near(section, self.wish.held)
        usual = near(section, stock_bars("us" if self.units.length_unit == "in" else "en"))
        there = [one.section for one in held]
        bars = [*held, *(one for one in usual if one.section not in there)][:NEAREST]
        bars = bars[: max(self._replays // REPLAYS_A_BAR, 2)]
        found = choices(self.planned_document, self.wish.part, self.target, bars, nominal=self.nominal)
        return tuple(found)

    @cached_property
    def effort_planned(self) -> PartPlan:
        """The heats and blows of the plan's bar, in the shop."""
        return part_plan(self.planned, self.wish.shop)

    def effort(self, choice: Choice) -> PartPlan | None:
        """Return the heats and blows that another bar takes; None where it does not come about."""
        return part_plan(choice.replayed, self.wish.shop) if choice.replayed else None

    @cached_property
    def changed(self) -> PartReplay | None:
        """The part with the stock found, or on the bar there is where none was."""
        if self.part_replayed is not None or self.wish.section is None:
            return self.part_replayed
        return replay_part(self.document, self.wish.part, nominal=self.nominal)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """What becomes of every step, where anything does."""
        now = self.changed
        found = tuple(changes(self.planned, now)) if now else ()
        return tuple(one for one in found if not one.is_same)

    @cached_property
    def effects(self) -> tuple[Effect, ...]:
        """Which given sizes matter most."""
        if self.solved is None:
            return ()
        most = min(MOST_SIZES, self._replays)
        found = effects(self.solved, self.wish.part, self.target, nominal=self.nominal, most=most)
        return tuple(one for one in found if abs(one.change) > 1e-6)[:MOST_EFFECTS]

    @cached_property
    def spread(self) -> Spread | None:
        """What the limits of rolled bar make of it."""
        if self.solved is None:
            return None
        return spread(self.solved, self.wish.part, self.target, nominal=self.nominal)

    limits_source = LIMITS_SOURCE


def _sets(frame: Frame, target: Target) -> bool:
    """Whether a step makes a length or a size what it is, and not the bar alone."""
    if target.step:
        return frame.key == target.step
    before, after = target.on(frame.before), target.on(frame.after)
    return after is not None and (before is None or abs(before - after) > TOUCH)
