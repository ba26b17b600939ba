"""A calculator: a formula's own file as a page, and what it answers to what was typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from django.utils.http import urlencode
from django.utils.safestring import SafeString

from calculators.formula import GROUPS, Answer, Formula, GivenError, Limits
from calculators.formula_words import words_of
from calculators.restated import in_inches, inch_unit
from calculators.retelling import retold
from calculators.typed import TypedError
from calculators.typed_given import read_given, settled, takes
from calculators.wording import INCH, UnitSystem
from procedures.engine.catalogue import find

from .answers import exact, said
from .figure_svg import figure_svg
from .tables import ShownTable, shown_table

STANDINGS = {
    "read": "read in the source itself",
    "quoted": "as another work quotes it",
    "memory": "from memory, not read again",
    "derived": "worked out here and checked by another route",
    "practice": "common in shops, no source",
}
_RANGE = ("low", "high")


@dataclass(frozen=True, slots=True)
class ShownField:
    """An input of the form: what was typed, and what is wrong with it."""

    name: str
    label: str
    help: str
    takes: str
    text: str
    default: str
    error: str
    optional: bool
    choices: tuple[tuple[str, str, bool], ...]  # word, label, chosen


@dataclass(frozen=True, slots=True)
class ShownValue:
    """A value of the answer with its working, in the reader's units."""

    label: str
    value: str
    working: str


class Calculator:
    """A formula with what was typed for it; `given` is the address's query, empty for its own example."""

    def __init__(self, kind: type[Formula], given: Mapping[str, str], units: UnitSystem) -> None:
        self._kind, self.units = kind, units  # a template would call the kind
        self._limits = dict(kind.inputs())
        texts = {name: given[name] for name in self._limits if given.get(name, "").strip()}
        self.is_example = not any(name in given for name in self._limits)
        if self.is_example:
            texts = {name: one.example[units is INCH] for name, one in self._limits.items() if one.example[0]}
        self.texts = {name: settled(self._limits[name], text, units) for name, text in texts.items()}
        self._errors: dict[str, str] = {}
        self._formula = self._made()
        self._answer = self._answered()

    # -- what was typed --------------------------------------------------------------------------

    def _made(self) -> Formula | None:
        values: dict[str, object] = {}
        for name, limits in self._limits.items():
            if name not in self.texts:
                if not self._is_optional(name):
                    self._errors[name] = f"{limits.label} is needed."
                continue
            try:
                value = values[name] = read_given(limits, self.texts[name], self.units)
            except TypedError as error:
                self._errors[name] = str(error)
                continue
            if isinstance(value, float) and (fault := limits.fault(value)):
                self._errors[name] = retold(fault, self.units)
        if self._errors:
            return None
        try:
            return self._kind(**values)
        except GivenError as error:
            self._errors[error.field] = retold(str(error), self.units)
        return None

    def _answered(self) -> Answer | None:
        if self._formula is None:
            return None
        try:
            return self._formula.answer()
        except GivenError as error:
            self._errors[error.field] = retold(str(error), self.units)
        except (OverflowError, ZeroDivisionError):
            # Sizes that are each within reason can still be too far apart to be reckoned with.
            first = next(iter(self._limits))
            self._errors[first] = "These sizes are too far apart to be reckoned with."
        return None

    def _is_optional(self, name: str) -> bool:
        return hasattr(self._kind, name)

    @property
    def query(self) -> str:
        """What the address holds: every input typed, in order, with its unit."""
        return "" if self.is_example else urlencode(self.texts)

    @cached_property
    def fields(self) -> tuple[ShownField, ...]:
        """The inputs in order."""
        return tuple(self._field(name, limits) for name, limits in self._limits.items())

    def _field(self, name: str, limits: Limits) -> ShownField:
        optional = self._is_optional(name)
        default = getattr(self._kind, name, "")
        typed = self.texts.get(name, "")
        chosen = typed or next((word for word, (_, one) in limits.choices.items() if one == default), "")
        return ShownField(
            name=name,
            label=limits.label,
            help=retold(limits.help or words_of(self._kind).inputs[name], self.units),
            takes=takes(limits, self.units),
            text=typed,
            default=said(default, limits.unit, self.units) if isinstance(default, (int, float)) else "",
            error=self._errors.get(name, ""),
            optional=optional and not limits.choices,
            choices=tuple(
                (word, label[0].upper() + label[1:], word == chosen)
                for word, (label, _) in limits.choices.items()
            ),
        )

    @property
    def wrong(self) -> bool:
        """Whether something typed cannot be."""
        return bool(self._errors)

    # -- what it is ------------------------------------------------------------------------------

    @property
    def id(self) -> str:
        """Its id, which is in its address."""
        return self._kind.id

    @property
    def title(self) -> str:
        """What it reckons, as a smith asks for it."""
        return self._kind.title

    @property
    def group(self) -> str:
        """What it is about."""
        return GROUPS[self._kind.group]

    @property
    def gist(self) -> str:
        """What it reckons, in a line."""
        return retold(words_of(self._kind).gist, self.units)

    @property
    def called(self) -> str:
        """What else it is looked up by."""
        return ", ".join(self._kind.words)

    @property
    def law(self) -> str:
        """The formula in signs."""
        return words_of(self._kind).law

    @property
    def valid(self) -> str:
        """What it holds for."""
        return retold(words_of(self._kind).valid, self.units)

    @property
    def source(self) -> str:
        """Where it comes from."""
        return retold(str(self._kind.source), self.units)

    @property
    def standing(self) -> str:
        """How far its source was followed."""
        return STANDINGS[self._kind.source.source.standing]

    @property
    def source_note(self) -> str:
        """What is to be known of its source."""
        return retold(self._kind.source.source.note, self.units)

    @property
    def operations(self) -> tuple[tuple[str, str], ...]:
        """The operations it reckons for: (id, title)."""
        found = ((one, find(one)) for one in self._kind.operations)
        return tuple((one, kind.title) for one, kind in found if kind)

    # -- what it answers -------------------------------------------------------------------------

    @property
    def result(self) -> str:
        """What the answer is."""
        return self._kind.result

    @cached_property
    def value(self) -> str:
        """The answer, or "" where something is wrong."""
        if self._answer is None:
            return ""
        return self._told(self._answer.text) or said(self._answer.value, self._answer.unit, self.units)

    @property
    def is_words(self) -> bool:
        """Whether the answer is words."""
        return bool(self._answer and self._answer.text)

    @property
    def colour(self) -> str:
        """What it looks like, "#rrggbb", or nothing."""
        return self._answer.colour if self._answer else ""

    @cached_property
    def span(self) -> tuple[str, ...]:
        """The low and the high estimate, where there are both."""
        if self._answer is None:
            return ()
        ends = {one.label: said(one.value, one.unit, self.units) for one in self._answer.further}
        return tuple(ends[one] for one in _RANGE) if all(one in ends for one in _RANGE) else ()

    @cached_property
    def _worked(self) -> Answer | None:
        """The answer whose working has the reader's own numbers in it."""
        if self._formula is None or self.units is not INCH or not self._formula.any_unit:
            return self._answer
        try:
            return in_inches(self._formula).answer()
        except GivenError:
            # A size just at its limit can be just over it in inches: the sum stands in millimetres then.
            return self._answer

    @cached_property
    def in_house_units(self) -> bool:
        """Whether the sum stands in millimetres for a reader of inches."""
        return self.units is INCH and self._worked is self._answer

    @cached_property
    def working(self) -> str:
        """The sum with the numbers put in, and what it comes to."""
        return self._line(self._worked) if self._worked else ""

    def _line(self, one: Answer) -> str:
        unit = one.unit if self.in_house_units or self.units is not INCH else inch_unit(one.unit)
        if not one.working or one.text:
            return one.working
        return f"{one.working} = {exact(one.value, unit)}"

    @cached_property
    def further(self) -> tuple[ShownValue, ...]:
        """Further values of the same sum."""
        if self._answer is None or self._worked is None:
            return ()
        found = [*zip(self._answer.further, self._worked.further, strict=True)]
        if self._answer.text and self._answer.unit:
            main = Answer(
                self._answer.value, self._answer.unit, "", label=self._answer.label or self._kind.result
            )
            found.insert(0, (main, main))
        return tuple(
            ShownValue(self._told(one.label), said(one.value, one.unit, self.units), self._line(worked))
            for one, worked in found
            if one.label not in _RANGE or not self.span
        )

    @cached_property
    def warnings(self) -> tuple[str, ...]:
        """What the answer must not be read without."""
        return tuple(one.text(self.units) for one in self._answer.warnings) if self._answer else ()

    @cached_property
    def drawing(self) -> SafeString | str:
        """The drawing of what is given, or nothing."""
        figure = self._formula.figure() if self._formula and self._answer else None
        return figure_svg(figure, self.units) if figure else ""

    @property
    def table(self) -> ShownTable | None:
        """The table that stands for all answers, where there is one."""
        table = self._kind.table()
        return shown_table(table, self.units) if table else None

    def _told(self, text: str) -> str:
        return retold(text, self.units)
