"""What a rule is: one thing a master sees to on a whole procedure, once it is replayed.

A subclass declares class facts and looks at the frames. Defining the class registers it; nothing else is
edited. `look` is pure: same replay, same flags.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from calculators.wording import say
from procedures.engine import finding
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay, Replay
from procedures.engine.mend import Mend, MoveStep
from procedures.engine.scale import ScaleHabit

registry: dict[str, type[Rule]] = {}


@dataclass(frozen=True)
class Case:
    """An example of a rule: a stored procedure, and the steps the rule speaks up at; none where it is silent.

    A step of a part other than the first is named "part/step".
    """

    title: str
    document: Mapping[str, Any]
    fires: tuple[str, ...] = ()
    stops: bool = False  # whether a step of it is stopped: what such a rule is about


class Rule(ABC):
    """One rule about a whole procedure. See the module docstring; class facts follow.

    `instead_of` are codes of cautions and notes of single steps that say less than this rule: where it
    speaks up at a step, they are left out there.
    """

    code: ClassVar[str] = ""  # stored where a finding is silenced: never changes
    level: ClassVar[Level] = Level.CAUTION
    title: ClassVar[str] = ""
    help: ClassVar[str] = ""
    source: ClassVar[str] = ""
    instead_of: ClassVar[tuple[str, ...]] = ()
    examples: ClassVar[tuple[Case, ...]] = ()

    def __init_subclass__(cls, **kwargs: Any) -> None:
        super().__init_subclass__(**kwargs)
        if not cls.code:
            return
        known = registry.get(cls.code)
        if known is not None and known.__module__ != cls.__module__:
            raise TypeError(f"Two rules are called {cls.code}: {known.__module__} and {cls.__module__}.")
        if cls.level == Level.STOP:
            raise TypeError(f"{cls.code}: a rule about a whole procedure does not stop a step.")
        registry[cls.code] = cls

    @abstractmethod
    def look(self, replayed: Replay) -> Iterator[Flag]:
        """Yield what the rule has to say. Steps that are not reached are passed over."""

    def flag(
        self,
        frame: Frame,
        message: str,
        *,
        hint: str = "",
        field: str = "",
        mend: Mend | None = None,
        also: Iterable[Frame] = (),
        **values: Any,
    ) -> Flag:
        """Return a flag at a step; `values` are those named in the message and the hint.

        `also` are steps it speaks of too: what single steps say less of gives way there as well.
        """
        made = finding.note if self.level == Level.NOTE else finding.caution
        found = made(self.code, message, hint=hint, field=field, source=self.source, **values)
        return Flag(frame.part.key, frame.key, found, mend, tuple(one.key for one in also))


class PartRule(Rule):
    """A rule that looks at one part by itself, as all do that compare no parts with each other.

    What it has to say of a part is kept as long as the part stays as it is, so it follows from nothing else.
    """

    def look(self, replayed: Replay) -> Iterator[Flag]:
        """Yield what the rule has to say of each part."""
        for part in replayed.parts:
            yield from self.look_at(part, replayed.document.scale)

    @abstractmethod
    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        """Yield what the rule has to say of a part worked in this fire."""


def move_before(frame: Frame, other: Frame) -> Mend:
    """Return the mend that puts a step before another of its part."""
    return Mend(
        say("Move before step {number:count}, {title}", number=other.number, title=other.title),
        (MoveStep(frame.key, "before", other.key),),
    )


def move_after(moved: Frame, other: Frame) -> Mend:
    """Return the mend that puts a step, found to come too early, after another of its part."""
    return Mend(
        say("Move step {number:count}, {title}, after this", number=moved.number, title=moved.title),
        (MoveStep(moved.key, "after", other.key),),
    )
