"""What a replay gives: one frame a step, and all frames of a part and of a procedure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Literal

from calculators.wording import Sentence
from procedures.engine.mend import Mend
from procedures.engine.pieces.metal import Metal, metal_of
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span

from .document import Document, Part, Step
from .finding import Finding, Level
from .operation import Operation
from .scale import Estimate
from .sketch import Sketch

Status = Literal["done", "stopped", "not_reached"]


@dataclass(frozen=True)
class Frame:
    """One step replayed.

    `before` is the piece the step found, `hot` the same less its scale, of which its words are reckoned,
    `after` what the step left (`before` again where it did not come about). `worked` are the ranges it worked
    and `heated` those its heats make hot, both as found before. `own` are the findings of the step by itself,
    where the rules about the whole procedure changed them.
    """

    number: int
    part: Part
    step: Step
    status: Status
    before: Piece
    after: Piece
    operation: Operation | None = None
    hot: Piece | None = None
    findings: tuple[Finding, ...] = ()
    own: tuple[Finding, ...] | None = None
    worked: tuple[Span, ...] = ()
    heated: tuple[Span, ...] = ()
    repeats: int = 1
    instruction: Sentence | None = None
    check: Sentence | None = None
    sketch: Sketch = field(default_factory=Sketch, compare=False)

    @property
    def key(self) -> str:
        """The key of the step."""
        return self.step.key

    @property
    def title(self) -> str:
        """The trade title of the operation."""
        return self.step.kind.title if self.step.kind else self.step.operation

    @property
    def solved(self) -> Mapping[str, Any]:
        """What follows for parameters that are not given, by their names; nothing where it is not done."""
        if self.operation is None or self.hot is None:
            return {}
        return self.operation.solved(self.hot, self.after)

    @property
    def members(self) -> int:
        """How often its heats are taken: for each branch it works, or each time it says that it is done."""
        return max(len({one.branch for one in self.worked}), self.repeats)

    @property
    def heats(self) -> int:
        """Planned forging heats over all members."""
        return self.step.heats * self.members

    @property
    def welding_heats(self) -> int:
        """Planned welding heats."""
        return self.step.welding_heats

    @cached_property
    def found(self) -> tuple[Metal, ...]:
        """The metal it worked, as it found it."""
        return tuple(metal_of(self.before, one) for one in self.worked)

    @cached_property
    def left(self) -> tuple[Metal, ...]:
        """The metal it worked, as it left it."""
        return tuple(metal_of(self.after, one) for one in self.after.worked)

    @cached_property
    def total_length(self) -> float:
        """The length of all branches together, as it found them [mm]."""
        return sum(one.length for one in self.before.branches)

    @property
    def lost(self) -> float:
        """Volume lost in this step [mm³], offcuts not reckoned as lost."""
        return self.after.lost() - self.before.lost()

    def of_level(self, level: Level | str) -> tuple[Finding, ...]:
        """Return the findings of one level that are not silenced."""
        return tuple(one for one in self.findings if one.level == level and not one.silenced)

    def by_itself(self) -> Frame:
        """Return the frame as it was before the rules looked at the whole procedure."""
        return self if self.own is None else replace(self, findings=self.own, own=None)


@dataclass(frozen=True, slots=True)
class Flag:
    """A finding of a rule, with the keys of the part and the step that it stands at.

    `also` are the keys of later steps that it speaks of too.
    """

    part: str
    step: str
    finding: Finding
    mend: Mend | None = None
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class PartReplay:
    """All frames of one part.

    `flags` are what the rules for one part found, by their code; {} before they looked.
    """

    part: Part
    start: Piece
    frames: tuple[Frame, ...]
    flags: Mapping[str, tuple[Flag, ...]] = field(default_factory=dict, compare=False, repr=False)

    @property
    def final(self) -> Piece:
        """The piece after the last step that came about."""
        return self.frames[-1].after if self.frames else self.start

    @property
    def is_complete(self) -> bool:
        """Whether every step came about."""
        return all(one.status == "done" for one in self.frames)

    def by_itself(self) -> PartReplay:
        """Return the part as it was before the rules added to its frames, but with what they found."""
        return replace(self, frames=tuple(one.by_itself() for one in self.frames))

    @property
    def heats(self) -> int:
        """Planned forging heats for one piece."""
        return sum(one.heats for one in self.frames)

    @property
    def welding_heats(self) -> int:
        """Planned welding heats for one piece."""
        return sum(one.welding_heats for one in self.frames)


@dataclass(frozen=True)
class Replay:
    """A whole procedure replayed, by part in the order of the document."""

    document: Document
    nominal: bool
    estimate: Estimate
    parts: tuple[PartReplay, ...]

    @property
    def is_complete(self) -> bool:
        """Whether every step of every part came about."""
        return all(one.is_complete for one in self.parts)

    @property
    def stops(self) -> tuple[tuple[Frame, Finding], ...]:
        """Every stop, with the frame it stands at."""
        return tuple(
            (frame, one) for part in self.parts for frame in part.frames for one in frame.of_level(Level.STOP)
        )

    def part(self, key: str) -> PartReplay | None:
        """Return the replay of one part, or None."""
        return next((one for one in self.parts if one.part.key == key), None)
