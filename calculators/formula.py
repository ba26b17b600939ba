"""The base of a formula: declared inputs with limits, one answer with its working, and its source.

A formula is one file in `formulas/` named as its id; nothing else is edited to add one, and its page is made
from that file alone.
"""

from __future__ import annotations

import operator
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, field
from typing import Any, ClassVar, dataclass_transform

from calculators.declared import Declaration, Declared
from calculators.figure import Figure
from calculators.sections import Section
from calculators.sources import SOURCES, Source
from calculators.wording import Sentence

GROUPS = {  # what a formula is about; pages list them so
    "stock": "Bar and stock",
    "longer": "Longer and thinner",
    "thicker": "Shorter and thicker",
    "curved": "Rings, bends and scrolls",
    "wound": "Twists and wraps",
    "joined": "Rivets, tenons, collars and welds",
    "holes": "Holes and hollows",
    "fire": "Heat, scale and steel",
    "work": "Work and cost",
}
SHARE = "share"  # the unit of a share of the whole, 0 to 1: said and typed in per cent
_ENDLESS = 1e300  # also catches what is not a number, and integers too long to be a float


@dataclass(frozen=True)
class Cite:
    """A place in a source: its key in `sources`, and the page or clause.

    Raises KeyError when there is no such source.
    """

    key: str
    page: int | str | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if self.key not in SOURCES:
            raise KeyError(f"There is no source {self.key!r}.")

    @property
    def source(self) -> Source:
        """The book, standard or paper."""
        return SOURCES[self.key]

    def __str__(self) -> str:
        page = f", page {self.page}" if isinstance(self.page, int) else f", {self.page}" if self.page else ""
        return f"{self.source}{page}" + (f" ({self.note})" if self.note else "")


@dataclass(frozen=True)
class Answer:
    """A value with its unit and its working, further values of the same sum, and warnings."""

    value: float
    unit: str
    working: str
    label: str = ""
    further: tuple[Answer, ...] = ()
    warnings: tuple[Sentence, ...] = ()
    text: str = ""  # the answer in words, where it is not a number
    colour: str = ""  # what it looks like, as "#rrggbb"

    def __getitem__(self, label: str) -> Answer:
        """Return the further value of a label. Raises KeyError when there is none."""
        for answer in self.further:
            if answer.label == label:
                return answer
        raise KeyError(label)


@dataclass(frozen=True)
class Table:
    """Rows of texts and sentences under their headings; `colours` holds a row's look each, or nothing."""

    title: str
    heads: tuple[Sentence | str, ...]
    rows: tuple[tuple[Sentence | str, ...], ...]
    colours: tuple[str, ...] = ()


@dataclass(frozen=True)
class Limits:
    """What an input is called and between which limits it lies; both ends of above and below excluded.

    `example` is what may be typed for it, in metric and in inches. `of` names what is taken of a typed
    section: its area, perimeter or modulus. Where there are `choices`, one of them is said: a word that
    stands in the address, its label and its value.
    """

    label: str
    unit: str
    above: float | None = None
    at_least: float | None = None
    below: float | None = None
    at_most: float | None = None
    help: str = ""
    example: tuple[str, str] = ("", "")
    of: str = ""
    choices: Mapping[str, tuple[str, float]] = field(default_factory=dict)

    def fault(self, value: float) -> str | None:
        """Return a sentence saying why a value is out of its limits, or None."""
        unit = f" {self.unit}" if self.unit else ""
        times = 1
        if self.unit == SHARE:
            unit, times = " %", 100
        if not -_ENDLESS < value < _ENDLESS:
            return f"{self.label} must be a finite number within reason."
        for limit, broken, words in (
            (self.above, operator.le, "more than"),
            (self.at_least, operator.lt, "at least"),
            (self.below, operator.ge, "less than"),
            (self.at_most, operator.gt, "at most"),
        ):
            if limit is not None and broken(value, limit):
                return f"{self.label} must be {words} {times * limit:g}{unit}; it is {times * value:g}{unit}."
        return None


class GivenError(ValueError):
    """An input out of its limits; `field` is its name."""

    def __init__(self, message: str, field: str) -> None:
        super().__init__(message)
        self.field = field


def check_bar(name: str, section: Section) -> None:
    """Refuse a section without any metal. Raises GivenError for the input of that name."""
    if section.area <= 0:
        raise GivenError(f"A bar of {section} holds no metal.", name)


def given(
    label: str,
    unit: str,
    *,
    above: float | None = None,
    at_least: float | None = None,
    below: float | None = None,
    at_most: float | None = None,
    default: Any = MISSING,
    help: str = "",
    example: tuple[str, str] = ("", ""),
    of: str = "",
    choices: Mapping[str, tuple[str, float]] | None = None,
) -> Any:
    """Declare an input of a formula: its label, its unit ("" for a plain number) and its limits.

    An input without a default has an `example`, as typed in metric and in inches. See Limits for the rest.
    """
    limits = Limits(label, unit, above, at_least, below, at_most, help, example, of, choices or {})
    return Declaration(limits, default)


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(given,))
class Formula(Declared, ABC):
    """A sum a smith does. A subclass declares its inputs with `given` and answers in house units.

    `words` are what else it is looked up by, `result` is what the answer is, `operations` are the ids of the
    steps that do what it reckons. Where the sum holds in any unit
    of length (no density, time or heat in it), `any_unit` says so, and its working can be shown in inches.

    Raises GivenError, a ValueError, when an input is out of its limits.
    """

    id: ClassVar[str]
    title: ClassVar[str]
    source: ClassVar[Cite]
    group: ClassVar[str]
    words: ClassVar[tuple[str, ...]] = ()
    result: ClassVar[str]
    any_unit: ClassVar[bool] = False
    operations: ClassVar[tuple[str, ...]] = ()

    def __init__(self, **given: Any) -> None:
        super().__init__(**given)
        for name, limits in self.inputs():
            value = getattr(self, name)
            if limits.unit == "section":
                if not isinstance(value, Section):
                    raise GivenError(f"{limits.label} must be a section; it is {value!r:.60}.", name)
                continue
            if isinstance(value, bool) or not isinstance(value, (int, float)):
                raise GivenError(f"{limits.label} must be a number; it is {value!r:.60}.", name)
            if fault := limits.fault(value):
                raise GivenError(fault, name)

    @classmethod
    def inputs(cls) -> Iterator[tuple[str, Limits]]:
        """Return each input's name and limits, in order."""
        for name, one in cls.declared.items():
            yield name, one.about

    @abstractmethod
    def answer(self) -> Answer:
        """Return the answer with its working."""

    def figure(self) -> Figure | None:
        """Return a drawing of what is given and of the answer, or None where none helps."""
        return None

    @classmethod
    def table(cls) -> Table | None:
        """Return a table that stands for all answers, where there is one."""
        return None
