"""One part as pages, cards and the phone show it: its bar, its steps, its totals and its mark-out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString

from calculators.number_texts import SPACE
from calculators.wording import UnitSystem
from procedures.engine.markout import Use, bar_marks
from procedures.engine.replay import Frame, PartReplay
from procedures.report import LOSSES

from .figures import Fact, fact
from .findings import counted
from .room import PHONE, Room
from .steel import ShownSteel
from .steps import ShownStep

if TYPE_CHECKING:
    from procedures.drawing import PartDrawing

    from .procedures import ShownProcedure

LOSS_WORDS = {
    "scale": "Lost to scale",
    "kerf": "Lost to the saw",
    "slug": "Slugs",
    "drill": "Drilled out",
    "file": "Filed away",
    "weld": "Lost in welds",
    "measured": "Measured short",
}


@dataclass(frozen=True, slots=True)
class ShownMark:
    """A place to mark on the raw bar, in the reader's units."""

    from_start: str
    from_end: str
    uses: tuple[Use, ...]
    at: float  # mm from the start

    @property
    def purpose(self) -> str:
        """What it is for, in words: "Mark A; step 4, taper, edge"."""
        words = "; ".join(_purpose(one) for one in self.uses)
        return words[:1].upper() + words[1:]


def _purpose(use: Use) -> str:
    if use.kind == "mark":
        return f"mark {use.label}"
    steps = f"step{'s' if len(use.steps) > 1 else ''} {', '.join(map(str, use.steps))}"
    edge = ", edge" if use.kind == "work" else ""
    return f"{steps}, {use.label[:1].lower()}{use.label[1:]}{edge}"


@dataclass(frozen=True, slots=True)
class ShownOffcut:
    """A length cut off and kept."""

    name: str
    length: str
    mass: str


HOT_METAL = "Black heat looks cold: hold the back of the hand near before touching."


def once(items: Iterable[str]) -> tuple[str, ...]:
    """Return the texts in order, each once."""
    return tuple(dict.fromkeys(items))


class ShownPart:
    """One part in the reader's units."""

    def __init__(self, procedure: ShownProcedure, replayed: PartReplay) -> None:
        self.procedure = procedure
        self.replayed = replayed
        self.part = replayed.part

    @property
    def units(self) -> UnitSystem:
        """The reader's units."""
        return self.procedure.units

    @property
    def nominal(self) -> bool:
        """Whether scale is left out of what is shown."""
        return self.procedure.nominal

    @property
    def key(self) -> str:
        """The key of the part."""
        return self.part.key

    @property
    def name(self) -> str:
        """The name of the part."""
        return self.part.name

    @property
    def quantity(self) -> int:
        """How many are made."""
        return self.part.quantity

    @property
    def is_complete(self) -> bool:
        """Whether every step came about."""
        return self.replayed.is_complete

    @cached_property
    def steps(self) -> tuple[ShownStep, ...]:
        """Its steps in order."""
        return tuple(ShownStep(self, one) for one in self.replayed.frames)

    def step(self, key: str) -> ShownStep | None:
        """Return the step of this key, or None."""
        return next((one for one in self.steps if one.key == key), None)

    def twin_of(self, frame: Frame) -> Frame | None:
        """Return the same step in the other view, or None where it did not come about there."""
        other = self.procedure.twin.part(self.key)
        twin = other.frames[frame.number - 1] if other else None
        return twin if twin and twin.status == "done" else None

    # -- the bar ---------------------------------------------------------------------------------

    @property
    def material(self) -> str:
        """The material's name."""
        return self.replayed.start.material.title

    @property
    def steel(self) -> ShownSteel:
        """Its figures, and what it forbids."""
        return ShownSteel(self.replayed.start.material, self.units)

    @property
    def stock_section(self) -> str:
        """The section of the bar, with its unit."""
        return self.units.section(self.part.section)

    @property
    def stock_length(self) -> str:
        """The length of the bar."""
        return self.units.length(self.part.length)

    @property
    def stock(self) -> str:
        """The bar in a phrase: "□12 mm × 400 mm"."""
        return f"{self.stock_section}{SPACE}×{SPACE}{self.stock_length}"

    @cached_property
    def marks(self) -> tuple[ShownMark, ...]:
        """The places to mark on the raw bar, from its start."""
        return tuple(
            ShownMark(
                from_start=self.units.length(one.at),
                from_end=self.units.length(self.part.length - one.at),
                uses=one.uses,
                at=one.at,
            )
            for one in bar_marks(self.replayed)
        )

    # -- totals ----------------------------------------------------------------------------------

    def _mass_of(self, volume: float) -> str:
        return self.units.mass(self.replayed.start.mass_of(volume))

    @property
    def mass_start(self) -> str:
        """Mass of the bar."""
        return self.units.mass(self.replayed.start.mass)

    @property
    def mass_end(self) -> str:
        """Mass of the piece after the last step that came about."""
        return self.units.mass(self.replayed.final.mass)

    @property
    def heats(self) -> int:
        """Planned heats for one piece, welding heats not counted."""
        return self.replayed.heats

    @property
    def welding_heats(self) -> int:
        """Planned welding heats for one piece."""
        return self.replayed.welding_heats

    @cached_property
    def losses(self) -> tuple[Fact, ...]:
        """What was lost, by kind, as masses; kinds that took nothing are left out."""
        final = self.replayed.final
        lost = ((kind, final.lost(kind)) for kind in LOSSES)
        return tuple(fact(LOSS_WORDS[kind], self._mass_of(volume)) for kind, volume in lost if volume)

    @cached_property
    def offcuts(self) -> tuple[ShownOffcut, ...]:
        """What was cut off and kept."""
        return tuple(
            ShownOffcut(one.name, self.units.length(one.length), self._mass_of(one.volume))
            for one in self.replayed.final.offcuts
        )

    @cached_property
    def finished(self) -> tuple[Fact, ...]:
        """Length of each branch of the piece as it ends."""
        piece = self.replayed.final
        return tuple(fact(one.name, self.units.length(one.length)) for one in piece.branches)

    @cached_property
    def totals(self) -> tuple[Fact, ...]:
        """The figures of the part: mass in and out, losses, offcuts, heats."""
        rows = [fact("Bar", self.mass_start), fact("Finished", self.mass_end), *self.losses]
        rows += [fact(f"Offcut {one.name}".rstrip(), one.mass) for one in self.offcuts]
        if self.heats:
            rows.append(Fact("Heats planned", str(self.heats)))
        if self.welding_heats:
            rows.append(Fact("Welding heats", str(self.welding_heats)))
        return tuple(rows)

    @cached_property
    def tools(self) -> tuple[str, ...]:
        """All hand tools of its steps, each once."""
        return once(tool for step in self.steps for tool in step.tools)

    @cached_property
    def tongs(self) -> tuple[str, ...]:
        """All tongs named, each once."""
        return once(step.tongs for step in self.steps if step.tongs)

    @cached_property
    def safety(self) -> tuple[str, ...]:
        """All safety lines of its steps, each once, and what goes for all hot metal."""
        return once([*(line for step in self.steps for line in step.safety), HOT_METAL])

    @cached_property
    def findings(self) -> dict[str, int]:
        """How many findings there are of each level."""
        return counted(one for frame in self.replayed.frames for one in frame.findings)

    # -- drawings --------------------------------------------------------------------------------

    @cached_property
    def pen(self) -> PartDrawing:
        """What draws this part, at one scale for all its steps."""
        return self._pen(self.replayed, self.procedure.room)

    @cached_property
    def narrow_pen(self) -> PartDrawing:
        """The same for a telephone."""
        return self._pen(self.replayed, PHONE)

    def _pen(self, replayed: PartReplay, room: Room) -> PartDrawing:
        from procedures.drawing import PartDrawing  # slow to import, and a list of steps draws nothing

        return PartDrawing(
            replayed,
            self.units,
            room.size,
            width=room.width,
            tallest=room.tallest,
            turned=room.turned,
            capitals=room.capitals,
        )

    @cached_property
    def portrait(self) -> SafeString:
        """The finished piece as SVG, as large as it goes: alone, at a scale of its own."""
        alone = PartReplay(self.part, self.replayed.final, ())
        return SafeString(self._pen(alone, PHONE).final())

    @cached_property
    def mark_out(self) -> SafeString:
        """The raw bar with its marks as SVG."""
        return SafeString(self.pen.mark_out())

    @cached_property
    def narrow_mark_out(self) -> SafeString:
        """The same for a telephone."""
        return SafeString(self.narrow_pen.mark_out())
