"""The tables a shop wants on its wall, reckoned by the formulas, in round sizes of the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from calculators import units
from calculators.formula import Table
from calculators.formulas.bar_mass import BarMass
from calculators.formulas.draw_out_length import DrawOutLength
from calculators.formulas.heat_colour import HeatColour
from calculators.formulas.ring_blank import RingBlank
from calculators.formulas.rivet_head import RivetHead
from calculators.formulas.temper_colour import TemperColour
from calculators.formulas.working_time import WorkingTime
from calculators.number_texts import decimal
from calculators.sections import Section
from calculators.wording import INCH, METRIC, Sentence, UnitSystem, say

_STEEL = 7850.0  # kg/m³
_MM = {
    "bars": (6, 8, 10, 12, 14, 16, 20, 25, 30, 40, 50),
    "rings": (20, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300),
    "ring bars": (6, 8, 10, 12, 16, 20),
    "grips": (4, 6, 8, 10, 12, 16, 20, 25, 30, 40),
    "rivets": (3, 4, 5, 6, 8, 10, 12),
    "drawn": (6, 8, 10, 12, 16, 20, 25),
}
_INCHES = {
    "bars": "1/4 5/16 3/8 7/16 1/2 5/8 3/4 7/8 1 5/4 3/2 2",
    "rings": "3/4 1 3/2 2 5/2 3 4 5 6 8 10 12",
    "ring bars": "1/4 5/16 3/8 1/2 5/8 3/4",
    "grips": "1/8 1/4 3/8 1/2 5/8 3/4 1 5/4 3/2",
    "rivets": "1/8 3/16 1/4 5/16 3/8 1/2",
    "drawn": "1/4 5/16 3/8 1/2 5/8 3/4 1",
}
_LOOSE = {METRIC.id: 0.5, INCH.id: 25.4 / 64}  # mm that a rivet's hole is larger than it
_ONE = {METRIC.id: ("a metre", 1000.0, "kg"), INCH.id: ("a foot", 304.8, "lb")}


def sizes(which: str, system: UnitSystem) -> tuple[float, ...]:
    """Return the sizes [mm] that a table goes through, round ones in the reader's units."""
    if system is INCH:
        return tuple(units.to_house(float(Fraction(one)), "in") for one in _INCHES[which].split())
    return tuple(float(one) for one in _MM[which])


def bench_tables(system: UnitSystem) -> tuple[Table, ...]:
    """Return all tables of the bench card."""
    return (
        bars(system),
        HeatColour.table(),
        TemperColour.table(),
        ring_stock(system),
        rivet_lengths(system),
        draw_ratios(system),
    )


def bars(system: UnitSystem) -> Table:
    """Return what a metre or a foot of bar weighs, and how long a heat lasts in it."""
    of_what, length, unit = _ONE[system.id]

    def weight(section: Section) -> str:
        kg = BarMass(area=section.area, length=length, density=_STEEL).answer().value
        return f"{decimal(units.from_house(kg, unit), 3 if kg < 1 else 2)} {unit}"

    rows: list[tuple[Sentence | str, ...]] = []
    for mm in sizes("bars", system):
        square = Section.square(mm)
        heat = WorkingTime(modulus=square.modulus).answer()
        masses = (weight(square), weight(Section.round(mm)))
        rows.append((_size(mm), *masses, _time(heat.value), _time(heat["in air"].value)))
    heads = ("Bar", "Square", "Round", "At the anvil", "In air")
    return Table(f"Weight of {of_what} of bar, and how long its heat lasts", heads, tuple(rows))


def ring_stock(system: UnitSystem) -> Table:
    """Return the bar for rings by inside diameter and thickness, without any weld allowance."""

    def length(inside: float, thick: float) -> Sentence:
        answer = RingBlank(inside_diameter=inside, thickness=thick).answer()
        return say("{mm:length}", mm=answer.value)

    title = "Bar for a ring, by inside diameter and thickness; nothing added for a weld"
    return _crossed(title, "Inside", sizes("rings", system), sizes("ring bars", system), length)


def rivet_lengths(system: UnitSystem) -> Table:
    """Return the length under the head of rivets closed with a snap head, by grip and shank."""

    def length(grip: float, shank: float) -> Sentence:
        answer = RivetHead(diameter=shank, hole=shank + _LOOSE[system.id], grip=grip).answer()
        return say("{mm:length}", mm=answer["whole shank"].value)

    title = "Rivets for a snap head: length under the head, by grip and shank"
    return _crossed(title, "Grip", sizes("grips", system), sizes("rivets", system), length)


def draw_ratios(system: UnitSystem) -> Table:
    """Return how many times longer square bar gets, drawn from one size to another; round to round alike."""

    def times(after: float, before: float) -> str:
        if after >= before:
            return "\N{EN DASH}"
        drawn = DrawOutLength(length=1, area_before=before**2, area_after=after**2)
        return f"× {decimal(drawn.answer().value, 2)}"

    title = "Drawing out: times as long, from the size above to the size at the left"
    drawn = sizes("drawn", system)
    return _crossed(title, "To, from", drawn[:-1], drawn[1:], times)


def _crossed(
    title: str,
    corner: str,
    down: Iterable[float],
    across: tuple[float, ...],
    cell: Callable[[float, float], Sentence | str],
) -> Table:
    heads = _row(corner, [_size(mm) for mm in across])
    rows = tuple(_row(_size(one), [cell(one, other) for other in across]) for one in down)
    return Table(title, heads, rows)


def _row(head: Sentence | str, cells: Sequence[Sentence | str]) -> tuple[Sentence | str, ...]:
    return head, *cells


def _size(mm: float) -> Sentence:
    return say("{mm:size}", mm=mm)


def _time(seconds: float) -> Sentence:
    return say("{s:seconds}", s=seconds)
