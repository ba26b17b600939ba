"""What an operation is: one file that says what it takes, what it does to the piece, and what can go wrong.

A subclass declares class facts and parameters; its objects hold the parameters and never change. Defining
the class registers it; nothing else is edited. `transform` is pure: same piece, same answer, no rounding.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import MISSING, dataclass, field
from functools import cache, cached_property
from types import MappingProxyType
from typing import Any, ClassVar, Self, dataclass_transform

from calculators.declared import Declared
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.parameters import declare
from procedures.engine.parameters.params import Param, ParamError, PartParam
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place, Point, Span

from .finding import Finding
from .sketch import Sketch

FAMILIES = {
    "prepare": "Preparing",
    "move": "Moving metal",
    "bend": "Bending and curving",
    "cut": "Cuts and holes",
    "weld": "Welding and joining",
    "finish": "Surface and shape",
    "treat": "Heat treatment",
    "check": "Checking",
}

LEAST_BAND = 100.0  # °C that a smith needs between too hot and too cold: from memory

registry: dict[str, type[Operation]] = {}


@dataclass(frozen=True)
class Result:
    """What an example expects of one branch afterwards; whatever is left out is not looked at.

    Lengths in mm, angles in degrees. `start` and `end` are the sections at the ends of the branch, `at` the
    section at a distance, `marks` the distances of marks from its start, `section` that of the part worked,
    `worked` its length.
    """

    branch: str = "bar"
    length: float | None = None
    start: Section | None = None
    end: Section | None = None
    section: Section | None = None
    worked: float | None = None
    at: Mapping[float, Section] = field(default_factory=dict)
    marks: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Example:
    """A worked or a refused example: both a test and a line of the help page.

    `first` are steps done before, as (operation id, parameters). `after` is what must come of it, to
    `tolerance` mm; `lost` the grams lost to scale, kerf and slugs; `refused` the codes of stops and
    `cautions` of cautions that must be raised; `says` are words that its instruction and check must hold, in
    millimetres and with plain spaces. `heats` with `scale` [mm a heat] let the fire take its part.
    """

    title: str
    before: Piece
    params: Mapping[str, Any]
    after: tuple[Result, ...] = ()
    refused: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    says: tuple[str, ...] = ()
    first: tuple[tuple[str, Mapping[str, Any]], ...] = ()
    lost: float | None = None
    heats: int = 0
    welding_heats: int = 0
    scale: float = 0.0
    weld_scale: float = 0.0
    tolerance: float = 0.1
    source: str = ""


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Operation(Declared):
    """One kind of forging step. See the module docstring; class facts follow."""

    id: ClassVar[str] = ""  # stored in every saved procedure: never changes
    version: ClassVar[int] = 1
    title: ClassVar[str] = ""
    family: ClassVar[str] = ""
    help: ClassVar[str] = ""
    synonyms: ClassVar[tuple[str, ...]] = ()
    one_of: ClassVar[tuple[tuple[str, ...], ...]] = ()  # in each tuple exactly one is given
    heat: ClassVar[tuple[float, float] | None] = None  # °C, low and high; None is cold work
    usual_heats: ClassVar[tuple[int, int]] = (0, 0)  # student, practised smith
    usual_welding_heats: ClassVar[int] = 0
    tools: ClassVar[tuple[str, ...]] = ()
    power_tools: ClassVar[tuple[str, ...]] = ()
    helper: ClassVar[str] = ""  # when a second person is wanted
    period: ClassVar[str] = ""  # how it was done
    modern: ClassVar[str] = ""  # what is done instead today
    safety: ClassVar[tuple[str, ...]] = ()
    examples: ClassVar[tuple[Example, ...]] = ()

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        if not cls.id:
            return
        known = registry.get(cls.id)
        if known is not None and known.__module__ != cls.__module__:
            raise TypeError(f"Two operations are called {cls.id}: {known.__module__} and {cls.__module__}.")
        if cls.family not in FAMILIES:
            raise TypeError(f"{cls.id}: the family {cls.family!r} is not one of {', '.join(FAMILIES)}.")
        registry[cls.id] = cls

    # -- parameters ------------------------------------------------------------------------------

    @classmethod
    @cache
    def params(cls) -> Mapping[str, Param]:
        """Return the declared parameters by name, in order."""
        return MappingProxyType({name: one.about for name, one in cls.declared.items()})

    @classmethod
    @cache
    def brings_in(cls) -> bool:
        """Whether it takes another part of the procedure."""
        return any(isinstance(one, PartParam) for one in cls.params().values())

    @classmethod
    def default(cls, name: str) -> Any:
        """Return the default of a parameter, or None."""
        default = cls.declared[name].default
        return None if default is MISSING else default

    @classmethod
    def from_params(cls, stored: Mapping[str, Any]) -> Self:
        """Return the operation with its parameters read from their stored form. Raises ParamError."""
        known = cls.params()
        strange = sorted(set(stored) - set(known))
        if strange:
            raise ParamError(f"{cls.title} has no parameter {strange[0]!r}.", (strange[0],))
        values: dict[str, Any] = {}
        for key, param in known.items():
            if stored.get(key) is not None:
                try:
                    values[key] = param.read(stored[key])
                except ParamError as error:
                    raise error.under(key) from error
            elif param.required and cls.default(key) is None and not cls._chosen(key):
                raise ParamError(f"{param.label} is needed.", (key,))
        for names in cls.one_of:
            cls._require_one(names, values)
        return cls(**values)

    @classmethod
    def _chosen(cls, name: str) -> bool:
        return any(name in names for names in cls.one_of)

    @classmethod
    def _require_one(cls, names: tuple[str, ...], values: dict[str, Any]) -> None:
        given = [name for name in names if name in values]
        labels = [cls.params()[name].label for name in names]
        if not given:
            raise ParamError(f"Give one of: {', '.join(labels)}.", (names[0],))
        if len(given) > 1:
            also = cls.params()[given[1]].label
            raise ParamError(
                f"Give only one of: {', '.join(labels)}. {also} follows from the other.", (given[1],)
            )

    @cached_property
    def given_values(self) -> tuple[object, ...]:
        """The values of its parameters, those of a list one by one."""
        each = (getattr(self, name) for name in self.params())
        return tuple(one for value in each for one in (value if isinstance(value, tuple) else (value,)))

    def to_params(self) -> dict[str, Any]:
        """Return the stored form of the parameters; what has its default or is not given is left out."""
        stored = {}
        for key, param in self.params().items():
            value = getattr(self, key)
            if value is not None and value != self.default(key):
                stored[key] = param.write(value)
        return stored

    # -- what a subclass says --------------------------------------------------------------------

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        """Return the ranges it works, on each member of a group. Raises Unworkable."""
        where = getattr(self, "where", None)
        return piece.spans(where) if isinstance(where, Place) else ()

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        """Return the ranges that take scale in its heats; what it works, unless it says otherwise."""
        return self.spans(piece)

    def welded(self, piece: Piece) -> tuple[Span, ...]:
        """Return the ranges that take scale in its welding heats."""
        return self.heated(piece)

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        """Return the ranges of other parts, by part key, that are in the fire with it."""
        return {}

    def brought_to_weld(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        """Return those that take scale in its welding heats."""
        return self.brought(piece)

    @property
    def is_cold(self) -> bool:
        """Whether it is done cold: always, or as its parameters have it."""
        return self.heat is None

    def planned_heat(self, piece: Piece) -> tuple[float, float] | None:
        """Return the heat [°C] it is done at, from and to, in the steel of a piece; None for cold work.

        The usual heat, taken lower where it would be above what the steel is forged at; a weld has its own.
        """
        if self.heat is None or self.is_cold:
            return None
        if self.usual_welding_heats:
            return self.heat
        (low, high), (coldest, hottest) = self.heat, piece.material.forging
        if high <= hottest:
            return self.heat
        return max(min(low, hottest - LEAST_BAND), min(coldest, low)), hottest

    def scales_at(self, piece: Piece) -> float | None:
        """Return the heat [°C] whose scale one of its heats costs; None for that of a forging heat."""
        return None

    def uses(self, piece: Piece) -> Mapping[str, int]:
        """Return how many of each other part it takes, by part key; one of each that it names."""
        keys = [getattr(self, name) for name, one in self.params().items() if isinstance(one, PartParam)]
        return {key: keys.count(key) for key in keys if key}

    def repeats(self, piece: Piece) -> int:
        """Return how often it is done, each time with its heats, beside once for each branch worked."""
        return 1

    def laid_out(self, piece: Piece) -> tuple[Point, ...] | None:
        """Return the points a smith marks for it; None where the ends of what it works are those points."""
        return None

    def problems(self, piece: Piece) -> Iterable[Finding]:
        """Yield what makes the step impossible on this piece."""
        return ()

    def transform(self, piece: Piece) -> Piece:
        """Return the piece after the step. May raise Unworkable, never anything else foreseen."""
        return piece

    def cautions(self, before: Piece, after: Piece) -> Iterable[Finding]:
        """Yield what is risky about the step."""
        return ()

    def solved(self, before: Piece, after: Piece) -> Mapping[str, Any]:
        """Return what parameters come to that are not given, by name; those that are given do not matter."""
        return {}

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        """Return the sentence for the card: what to do, with sizes."""
        return say(self.title + ".")

    def check(self, before: Piece, after: Piece) -> Sentence | None:
        """Return the one thing to measure before going on, or None."""
        return None

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        """Say what the drawing should bring out: by default what was worked, with its length."""
        for span in after.worked:
            sketch.highlight(span)
            sketch.length(span)


def worked_length(piece: Piece) -> float:
    """Return the length [mm] of the first range the last step worked; 0 where it worked none."""
    return piece.worked[0].length if piece.worked else 0.0


def each(piece: Piece, spans: Iterable[Span]) -> Iterator[tuple[Span, Any]]:
    """Yield (span, branch) for every span, for checks that look at each member alike."""
    for span in spans:
        yield span, piece.branch(span.branch)


__all__ = ["FAMILIES", "Example", "Operation", "Result", "declare", "each", "registry", "worked_length"]
