"""A draft from a drawing as texts, in the reader's units."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.drafting.drafting import Draft
from procedures.drafting.seen import Size
from procedures.drafting.setting import PART
from procedures.engine.pieces.segment import TOUCH

from .findings import shown_finding
from .parts import ShownPart
from .procedures import ShownProcedure
from .steps import ShownStep


@dataclass(frozen=True, slots=True)
class SizeRow:
    """A size: as described, as it comes out, and why that differs."""

    label: str
    wanted: str
    got: str
    why: str


@dataclass(frozen=True, slots=True)
class FeatureLine:
    """A feature with the bar it takes; "" for one that takes none of its own."""

    number: int
    title: str
    takes: str
    sizes: tuple[SizeRow, ...]


class ShownDraft:
    """A draft in texts."""

    def __init__(self, draft: Draft, units: UnitSystem) -> None:
        self.draft = draft
        self.units = units

    @cached_property
    def part(self) -> ShownPart:
        """The part, as every page shows one."""
        found = ShownProcedure(self.draft.replayed, self.units).part(PART)
        assert found is not None
        return found

    @property
    def last(self) -> ShownStep | None:
        """The last step, whose drawing shows the piece when made; None for a bar as it comes."""
        return self.part.steps[-1] if self.part.steps else None

    @property
    def bar(self) -> str:
        """The bar it takes: "□12 mm × 296 mm"."""
        return f"{self.units.section(self.draft.layout.bar)} × {self.length}"

    @property
    def length(self) -> str:
        """How much bar, typically."""
        return self.units.length(self.draft.bars["typical"])

    @property
    def range(self) -> tuple[tuple[str, str], ...]:
        """The least and the most, by how much the fire takes; nothing where there is no fire."""
        low, high = self.draft.bars["low"], self.draft.bars["high"]
        if abs(high - low) < TOUCH:
            return ()
        return (
            ("With little scale", self.units.length(low)),
            ("With much scale", self.units.length(high)),
        )

    @property
    def kerf(self) -> str:
        """What the saw takes; "" where nothing."""
        kerf = self.draft.layout.description.kerf
        return self.units.length(kerf) if kerf else ""

    @property
    def sum(self) -> str:
        """The bar of every feature added up: "60 mm + 18 mm"."""
        found = [self.units.length(one.typical) for one in self.draft.rows if one.feature.takes_bar]
        return " + ".join([*found, self.kerf] if self.kerf else found)

    @cached_property
    def lines(self) -> tuple[FeatureLine, ...]:
        """Every feature."""
        return tuple(
            FeatureLine(
                one.number + 1,
                one.feature.title,
                self.units.length(one.typical) if one.feature.takes_bar else "",
                tuple(self._size(size) for size in one.sizes),
            )
            for one in self.draft.rows
        )

    def _size(self, size: Size) -> SizeRow:
        return SizeRow(size.label, self._said(size, size.wanted), self._said(size, size.got), size.why)

    def _said(self, size: Size, value: float | Section) -> str:
        if isinstance(value, Section):
            return self.units.section(value)
        if size.kind == "angle":
            return self.units.angle(value)
        return self.units.size(value) if size.kind == "size" else self.units.length(value)

    @cached_property
    def cautions(self) -> tuple[tuple[str, object], ...]:
        """What the checks warn of: (the step, the finding)."""
        return tuple(
            (
                f"Step {frame.number}, {frame.title.lower()}",
                shown_finding(found, "", frame.number, self.units),
            )
            for frame, found in self.draft.cautions
        )
