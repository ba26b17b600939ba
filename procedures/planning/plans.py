"""What a heat plan holds: steps, parts and the whole, with the three numbers of heats kept apart."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from calculators.hot_work import Forged
from procedures.engine.document import Part
from procedures.engine.frames import Frame

from .profile import Hammer, ShopProfile
from .ranges import NOTHING, Calibration, Range, added, whole_heats
from .waiting import Waiting
from .windows import Limits
from .work import Work

Kind = Literal["forged", "welded", "warmed", "cold", "not_done"]


@dataclass(frozen=True, slots=True)
class Need:
    """Why a member needs so many heats: for its work, to reach all of it, and as the craft usually takes."""

    energy: float
    reach: int
    craft: int

    def heats(self, times: float = 1.0) -> int:
        """Return the heats, the work being so many times what is reckoned."""
        return max(whole_heats(self.energy * times), self.reach, self.craft)

    @property
    def by(self) -> Literal["energy", "reach", "craft"]:
        """What decides it."""
        if whole_heats(self.energy) > max(self.reach, self.craft):
            return "energy"
        return "reach" if self.reach > self.craft else "craft"


@dataclass(frozen=True)
class StepPlan:
    """One step in the fire and on the anvil. Times in seconds, of all members together unless said.

    `need` and `hammering` are those of one member; `shares` is set where it has no heat of its own and is
    done in that of the step `leader`.
    """

    frame: Frame
    kind: Kind
    limits: Limits | None = None
    hammer: Hammer | None = None
    work: Work | None = None
    forged: Forged | None = None
    need: Need | None = None
    window: Range | None = None
    blows: Range = NOTHING
    hammering: Range = NOTHING
    predicted: Range = NOTHING
    heating: Range = NOTHING
    reheating: Range = NOTHING
    fire: Range = NOTHING
    anvil: Range = NOTHING
    welding_window: float | None = None
    waiting: Waiting | None = None
    starts_hot: bool = False
    leader: str = ""
    shares: bool = False

    @property
    def key(self) -> str:
        """The key of the step."""
        return self.frame.key

    @property
    def planned(self) -> int:
        """The author's heats, welding heats too, over all members."""
        return self.frame.heats + self.frame.welding_heats

    @property
    def is_hot(self) -> bool:
        """Whether it goes through the fire."""
        return self.kind in ("forged", "welded", "warmed")

    @property
    def minutes(self) -> Range:
        """Fire and anvil together [s]."""
        return self.fire + self.anvil


@dataclass(frozen=True)
class PartPlan:
    """The plan of one part."""

    part: Part
    steps: tuple[StepPlan, ...]

    @cached_property
    def predicted(self) -> Range:
        """Heats predicted for one piece."""
        return added([one.predicted for one in self.steps])

    @property
    def planned(self) -> int:
        """Heats its author plans for one piece."""
        return sum(one.planned for one in self.steps)

    @cached_property
    def blows(self) -> Range:
        """Blows for one piece."""
        return added([one.blows for one in self.steps])

    @cached_property
    def fire(self) -> Range:
        """Time in the fire for one piece [s]."""
        return added([one.fire for one in self.steps])

    @cached_property
    def anvil(self) -> Range:
        """Time at the anvil for one piece [s]."""
        return added([one.anvil for one in self.steps])

    @property
    def minutes(self) -> Range:
        """Fire and anvil for one piece [s]; cold work, setting up and looking are not in it."""
        return self.fire + self.anvil

    def step(self, key: str) -> StepPlan | None:
        """Return the plan of a step by its key, or None."""
        return next((one for one in self.steps if one.key == key), None)


@dataclass(frozen=True)
class HeatPlan:
    """The plan of a procedure in one shop, for one person's pace."""

    profile: ShopProfile
    calibration: Calibration
    parts: tuple[PartPlan, ...]

    def part(self, key: str) -> PartPlan | None:
        """Return the plan of a part by its key, or None."""
        return next((one for one in self.parts if one.part.key == key), None)
