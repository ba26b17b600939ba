"""The cutting list of a procedure in the reader's units: the bars of each section and what is cut of them."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from calculators import units as unit_factors
from calculators.materials import Material
from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.engine.document import Part
from procedures.stock.cutting import SECONDS, CutBar, CuttingError, Plan, Shop, Wanted, cutting_plan

MOST_SECONDS = 4.0  # for all sections of a list
LEAST_SECONDS = 0.3  # for each
DRAWN = 1000  # units across the drawing of the longest bar


@dataclass(frozen=True)
class Group:
    """The parts that are cut from one section of one material."""

    section: Section
    material: Material
    parts: tuple[Part, ...]


@dataclass(frozen=True)
class CuttingWish:
    """How many of each part and how long, the lengths bar is bought in, a rack a group, allowances [mm]."""

    groups: tuple[Group, ...]
    counts: Mapping[str, int]
    lengths: Mapping[str, float]
    buy: tuple[float, ...]
    racks: tuple[tuple[float, ...], ...]
    kerf: float
    grip: float
    spare: float
    price: float | None = None


@dataclass(frozen=True, slots=True)
class DrawnPiece:
    """A piece as it is drawn on its bar."""

    x: float
    width: float
    name: str


@dataclass(frozen=True)
class BarLine:
    """Bars that are cut alike: how many, what of, what from them, and what is left of each."""

    count: int
    length: str
    is_offcut: bool
    pieces: tuple[tuple[int, str, str], ...]
    left: str
    drawn: tuple[DrawnPiece, ...]
    across: float


def groups_of(parts: Sequence[Part]) -> tuple[Group, ...]:
    """Return parts by section and material, in their order."""
    found: dict[tuple[Section, Material], list[Part]] = {}
    for part in parts:
        found.setdefault((part.section, part.material), []).append(part)
    return tuple(Group(*key, tuple(parts)) for key, parts in found.items())


class CutGroup:
    """One section's cutting plan. `error` says why there is none."""

    def __init__(
        self, group: Group, rack: tuple[float, ...], wish: CuttingWish, units: UnitSystem, seconds: float
    ) -> None:
        self.group = group
        self.units = units
        self.wish = wish
        self.plan = Plan((), 0.0)
        self.error = ""
        wanted = [
            Wanted(one.name, wish.lengths[one.key] + wish.spare, wish.counts[one.key]) for one in group.parts
        ]
        self.count = sum(one.count for one in wanted)
        try:
            self.plan = cutting_plan(wanted, Shop(wish.buy, rack, wish.kerf, wish.grip), seconds=seconds)
        except CuttingError as fault:
            self.error = str(fault)
            if fault.length:
                self.error = f"A piece of {units.length(fault.length)} is longer than any bar there is."

    @property
    def title(self) -> str:
        """Its section and material."""
        return f"{self.units.section(self.group.section)}, {self.group.material.title.lower()}"

    @cached_property
    def lines(self) -> list[BarLine]:
        """Its bars, those cut alike together."""
        longest = max((one.length for one in self.plan.bars), default=1.0)
        alike = Counter((one.length, one.is_offcut, one.pieces) for one in self.plan.bars)
        found = {(one.length, one.is_offcut, one.pieces): one for one in self.plan.bars}
        return [self._line(found[key], count, longest) for key, count in alike.items()]

    def _line(self, bar: CutBar, count: int, longest: float) -> BarLine:
        scale = DRAWN / longest
        drawn, at = [], 0.0
        for name, length in bar.pieces:
            drawn.append(DrawnPiece(round(at * scale, 2), round(length * scale, 2), name))
            at += length + self.wish.kerf
        pieces = tuple(
            (many, name, self.units.length(length)) for (name, length), many in Counter(bar.pieces).items()
        )
        return BarLine(
            count=count,
            length=self.units.length(bar.length),
            is_offcut=bar.is_offcut,
            pieces=pieces,
            left=self.units.length(bar.left),
            drawn=tuple(drawn),
            across=round(bar.length * scale, 2),
        )

    def _mass(self, length: float) -> float:
        return length * self.group.section.area * self.group.material.density * 1e-9

    @property
    def order(self) -> list[str]:
        """What to buy: "3 × 6000 mm"."""
        new = Counter(one.length for one in self.plan.bars if not one.is_offcut)
        return [
            f"{count} × {self.units.length(length)}" for length, count in sorted(new.items(), reverse=True)
        ]

    @property
    def bought_mass(self) -> float:
        """Mass of the new bar [kg]."""
        return self._mass(self.plan.bought)

    @property
    def cost(self) -> float | None:
        """What the new bar costs, where a price was given: of a pound or of a kilogram."""
        if self.wish.price is None:
            return None
        inches = self.units.length_unit == "in"
        mass = unit_factors.from_house(self.bought_mass, "lb") if inches else self.bought_mass
        return self.wish.price * mass

    @property
    def rows(self) -> list[tuple[str, str]]:
        """Its figures."""
        plan = self.plan
        waste = plan.left + plan.kerfs
        found = [
            ("To buy", ", ".join(self.order) or "nothing"),
            ("New bar", f"{self.units.length(plan.bought)}, {self.units.mass(self.bought_mass)}"),
            ("In pieces", self.units.length(plan.used)),
            ("Left over", self.units.length(plan.left)),
            ("To the saw", self.units.length(plan.kerfs)),
        ]
        whole = sum(one.length for one in plan.bars)
        if whole:
            found.append(("Waste", self.units.percent(waste / whole)))
        if self.cost is not None:
            found.append(("Cost", f"{self.cost:.2f}"))
        return found

    @property
    def bound(self) -> str:
        """How good the plan is known to be."""
        plan = self.plan
        if plan.is_proven:
            return "No plan takes less new bar: proven."
        return (
            f"No plan takes less than {self.units.length(plan.bound)} of new bar; "
            f"this one could be {self.units.percent(plan.gap)} too much at most."
        )


class CuttingList:
    """The cutting list of a whole procedure."""

    def __init__(self, wish: CuttingWish, units: UnitSystem) -> None:
        found = zip(wish.groups, wish.racks, strict=True)
        seconds = max(MOST_SECONDS / max(len(wish.groups), 1), LEAST_SECONDS)
        seconds = min(seconds, SECONDS)
        self.groups = [CutGroup(group, rack, wish, units, seconds) for group, rack in found]
        self.units = units

    @property
    def totals(self) -> list[tuple[str, str]]:
        """The figures of all sections together."""
        bought = sum(one.bought_mass for one in self.groups)
        found = [
            ("Pieces", str(sum(one.count for one in self.groups))),
            ("New bar", self.units.mass(bought)),
        ]
        costs = [one.cost for one in self.groups if one.cost is not None]
        return [*found, ("Cost", f"{sum(costs):.2f}")] if costs else found

    def csv(self) -> str:
        """Return a row for every piece on every bar, lengths in mm."""
        file = io.StringIO()
        rows = csv.writer(file)
        rows.writerow(["section", "material", "bar", "bar_mm", "from", "piece", "piece_mm", "left_mm"])
        for group in self.groups:
            for number, bar in enumerate(group.plan.bars, start=1):
                for name, length in bar.pieces:
                    origin = "rack" if bar.is_offcut else "new"
                    rows.writerow(
                        [
                            str(group.group.section),
                            group.group.material.title,
                            number,
                            f"{bar.length:.10g}",
                            origin,
                            _plain(name),
                            f"{length:.10g}",
                            f"{bar.left:.4g}",
                        ]
                    )
        return file.getvalue()


def _plain(name: str) -> str:
    """Return a name that no spreadsheet takes for a formula."""
    return f"'{name}" if name[:1] in ("=", "+", "-", "@", "\t") else name
