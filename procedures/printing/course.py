"""What a class needs together: bars, tools, heats, safety and words, added up over its procedures."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from math import ceil

from calculators.number_texts import SPACE
from calculators.wording import UnitSystem
from procedures.presenting import ShownPart, ShownProcedure, ShownStep
from procedures.presenting.heats import ShownHeat, heat_of
from procedures.presenting.operations import OperationPage

from .trade_words import words_in

GENERAL = (  # common practice in teaching, no source
    "Eye protection for everyone in the room, hearing protection while anyone hammers.",
    "Cotton or wool, closed leather boots, hair tied back. Nothing that melts, nothing loose.",
    "Hot metal is carried low, close to the body side, and told of aloud.",
    "Know where the water, the burn kit, the extinguisher, the gas valve and the door are.",
    "Nobody uses a power tool before being shown it, and nobody works alone.",
)


# Common practice in teaching, no source.
SHARED = (
    "box of",
    "bucket",
    "drill press",
    "iron box",
    "quench tank",
    "saw",
    "shear",
    "trestle",
    "flux",
    "wax",
)


@dataclass(frozen=True, slots=True)
class Course:
    """The class: as typed, and how much of everything."""

    title: str = "Class handout"
    teacher: str = ""
    date: str = ""
    place: str = ""
    students: int = 1
    spare: int = 0  # sets more than students
    at_once: int = 1  # students who forge at the same time
    kerf: float = 0.0  # mm a saw cut takes

    @property
    def sets(self) -> int:
        """How many of each procedure there is material for."""
        return self.students + self.spare


@dataclass(frozen=True, slots=True)
class Cut:
    """Bars of one part to cut."""

    procedure: int  # its number in the handout
    part: str
    length: str
    number: int


@dataclass(frozen=True, slots=True)
class Stock:
    """All bars of one section and material: what to cut, and how much that is with the saw cuts."""

    material: str
    section: str
    cuts: tuple[Cut, ...]
    pieces: int
    length: str
    mass: str


@dataclass(frozen=True, slots=True)
class Used:
    """Something that some of the procedures use, by their numbers."""

    what: str
    where: str


@dataclass(frozen=True, slots=True)
class Needed:
    """A tool, and how many of it: one for each who forges at once, or one for all."""

    what: str
    where: str
    number: int


@dataclass(frozen=True, slots=True)
class HeatRow:
    """A heat, None for cold work, and what is done in it."""

    heat: ShownHeat | None
    work: tuple[Used, ...]


class ClassTotals:
    """The procedures of a handout taken together, in the reader's units. Numbers count from 1."""

    def __init__(self, procedures: tuple[ShownProcedure, ...], course: Course, units: UnitSystem) -> None:
        self.procedures = procedures
        self.course = course
        self.units = units

    # -- material --------------------------------------------------------------------------------

    @cached_property
    def stock(self) -> tuple[Stock, ...]:
        """The bars needed, by material and section."""
        found: dict[tuple[str, str], list[tuple[int, ShownPart]]] = {}
        for number, part in self._parts():
            found.setdefault((part.material, part.stock_section), []).append((number, part))
        return tuple(self._stock(*key, parts) for key, parts in sorted(found.items()))

    def _stock(self, material: str, section: str, parts: list[tuple[int, ShownPart]]) -> Stock:
        cuts, pieces, length, mass = [], 0, 0.0, 0.0
        for number, part in parts:
            count = part.quantity * self.course.sets
            cuts.append(Cut(number, part.name, part.stock_length, count))
            pieces += count
            length += count * (part.part.length + self.course.kerf)
            mass += count * part.replayed.start.mass
        return Stock(
            material, section, tuple(cuts), pieces, run_length(length, self.units), self.units.mass(mass)
        )

    # -- tools, safety, words --------------------------------------------------------------------

    @cached_property
    def tools(self) -> tuple[Needed, ...]:
        """Hand tools, those of one kind together: any face, edge or horn is an anvil."""
        used = self._used(lambda step: [name for tool in step.tools for name in tool_names(tool)])
        return tuple(
            Needed(one.what, one.where, 1 if is_shared(one.what) else self.course.at_once) for one in used
        )

    @cached_property
    def power_tools(self) -> tuple[Used, ...]:
        """What may be used in their place where there is a power hammer or the like."""
        return self._used(
            lambda step: (f"{step.title}: {', '.join(step.power_tools)}",) if step.power_tools else ()
        )

    @cached_property
    def tongs(self) -> tuple[Used, ...]:
        """Tongs that the authors name."""
        return self._used(lambda step: (step.tongs,) if step.tongs else ())

    @cached_property
    def helpers(self) -> tuple[Used, ...]:
        """When a second person is wanted."""
        return self._used(lambda step: (f"{step.title}: {step.helper}",) if step.helper else ())

    @cached_property
    def safety(self) -> tuple[Used, ...]:
        """The safety lines of the steps, and where each applies."""
        return self._used(lambda step: step.safety, ordered=False)

    @cached_property
    def operations(self) -> tuple[OperationPage, ...]:
        """The operations of the steps, each once, by title."""
        kinds = {step.frame.step.kind for _, step in self._steps()} - {None}
        shown = (OperationPage(kind, self.units) for kind in kinds if kind is not None)
        return tuple(sorted(shown, key=lambda one: one.title))

    @cached_property
    def words(self) -> dict[str, str]:
        """Words of the trade that these procedures use, but for the names of their operations."""
        told = {one.title.lower() for one in self.operations}
        texts = (text for _, step in self._steps() for text in _texts(step))
        return {word: meaning for word, meaning in words_in(texts).items() if word not in told}

    # -- heats -----------------------------------------------------------------------------------

    @cached_property
    def heats(self) -> tuple[HeatRow, ...]:
        """Every heat that something is done in, the hottest first, cold work last."""
        done: dict[tuple[float, float] | None, dict[str, set[int]]] = {}
        for number, step in self._steps():
            operation = step.frame.operation
            heat = operation.planned_heat(step.frame.before) if operation else None
            done.setdefault(heat, {}).setdefault(step.title, set()).add(number)
        hottest = sorted(done, key=lambda one: (one is None, [-end for end in (one or ())[::-1]]))
        return tuple(HeatRow(heat_of(one, self.units) if one else None, _rows(done[one])) for one in hottest)

    # -- walking ---------------------------------------------------------------------------------

    def _parts(self) -> Iterator[tuple[int, ShownPart]]:
        return ((n, part) for n, one in enumerate(self.procedures, 1) for part in one.parts)

    def _steps(self) -> Iterator[tuple[int, ShownStep]]:
        return ((number, step) for number, part in self._parts() for step in part.steps)

    def _used(self, told: Callable[[ShownStep], Iterable[str]], *, ordered: bool = True) -> tuple[Used, ...]:
        found: dict[str, set[int]] = {}
        for number, step in self._steps():
            for what in told(step):
                found.setdefault(what, set()).add(number)
        rows = _rows(found)
        return tuple(sorted(rows, key=lambda one: one.what.lower())) if ordered else rows


def tool_names(tool: str) -> list[str]:
    """Return what a tool of a step is counted as: "hammer and anvil edge" as a hammer and an anvil."""
    both = re.match(r"hammer and (anvil\b.*)", tool)
    if both:
        return ["hammer", *tool_names(both[1])]
    plain = re.match(r"(anvil|hammer)(?=$|,| (?:face|horn|edge|and))", tool)
    return [plain[1]] if plain else [tool]


def is_shared(tool: str) -> bool:
    """Whether one of it does for a class: what stands by the fire, is used once a piece, or is a machine."""
    return any(re.search(rf"\b{word}s?\b", tool) for word in SHARED)


def _rows(found: dict[str, set[int]]) -> tuple[Used, ...]:
    return tuple(Used(what, ", ".join(map(str, sorted(where)))) for what, where in found.items())


def _texts(step: ShownStep) -> Iterator[str]:
    yield from (step.instruction, step.check, step.helper, step.frame.step.note, step.tongs)
    yield from (*step.tools, *step.safety)


def run_length(mm: float, units: UnitSystem) -> str:
    """Say how much bar to buy: metres, up to the next tenth, or feet and inches."""
    if units.id == "metric":
        return f"{ceil(mm / 100 - 1e-9) / 10:.1f}{SPACE}m"
    return units.length(mm)
