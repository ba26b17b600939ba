"""What of a part can be printed at full size, after any of its steps."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from calculators.wording import UnitSystem
from procedures.drawing.lettering import name
from procedures.engine.document import Part
from procedures.engine.pieces.piece import Piece
from procedures.engine.replay import PartReplay, Replay

from .flat import hole_layouts, spread_shapes
from .paper import FullSizeError
from .pattern import Pattern, Whose
from .strip import strip
from .templates import templates
from .whole import whole_views


@dataclass(frozen=True)
class Stage:
    """A part after step `number`; 0 is the bar as it comes."""

    replayed: PartReplay
    number: int

    @property
    def last(self) -> int:
        """The last step that comes about."""
        return sum(one.status == "done" for one in self.replayed.frames)

    @property
    def piece(self) -> Piece:
        """The piece as it is then."""
        return self.replayed.frames[self.number - 1].after if self.number else self.replayed.start

    @property
    def said(self) -> str:
        """Which stage it is, in words."""
        if not self.number:
            return "the bar as it comes"
        frame = self.replayed.frames[self.number - 1]
        is_last = self.number == self.last and self.replayed.is_complete
        return "when made" if is_last else f"after step {self.number}, {frame.title.lower()}"


@dataclass(frozen=True)
class Offered:
    """A part at a stage with all its patterns."""

    stage: Stage
    patterns: tuple[Pattern, ...]

    @property
    def part(self) -> Part:
        """The part."""
        return self.stage.replayed.part

    def pattern(self, key: str) -> Pattern | None:
        """Return the pattern of this key, or None."""
        return next((one for one in self.patterns if one.key == key), None)

    def chosen(self, keys: Iterable[str], *, strict: bool = True) -> tuple[Pattern, ...]:
        """Return the patterns of these keys, in the order they are offered.

        Raises FullSizeError, if strict, for one that is not there.
        """
        wanted = set(keys)
        missing = sorted(wanted - {one.key for one in self.patterns})
        if missing and strict:
            there = ", ".join(one.key for one in self.patterns)
            raise FullSizeError(
                f"{self.part.name}, {self.stage.said}, has no {missing[0][:40]!r}; it has {there}."
            )
        return tuple(one for one in self.patterns if one.key in wanted)


def offered(
    replayed: Replay, key: str, units: UnitSystem, *, step: int | None = None, nominal: Replay | None = None
) -> Offered:
    """Return what can be printed of a part, when made or after a step.

    `nominal` is the same procedure replayed without scale, for the distances it would have. Raises
    FullSizeError for a part that is not there, and for a step that is not there or does not come about.
    """
    part = replayed.part(key)
    if part is None:
        raise FullSizeError(f"There is no part {key[:40]!r} in this procedure.")
    stage = Stage(part, 0)
    stage = Stage(part, stage.last if step is None else step)
    if not 0 <= stage.number <= stage.last:
        raise FullSizeError(f"{part.part.name} has steps 0 to {stage.last} to choose from, not {step}.")
    twin = nominal.part(key) if nominal else None
    piece = stage.piece
    whose = Whose(key, name(part.part.name, 40), units)
    patterns = (
        strip(part, twin, units),
        *templates(piece, whose),
        *spread_shapes(piece, whose),
        *hole_layouts(piece, whose),
        *whole_views(piece, whose),
    )
    return Offered(stage, patterns)
