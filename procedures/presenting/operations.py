"""One operation as its page in the guide shows it: everything from its own file, nothing written twice."""

from __future__ import annotations

import inspect
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from django.utils.safestring import SafeString

from calculators.formulary import of_operation
from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.engine.catalogue import catalogue, gist
from procedures.engine.exampling import rules_at
from procedures.engine.finding import Level
from procedures.engine.operation import FAMILIES, Operation
from procedures.engine.sayings import sayings

from .examples import ShownExample
from .figures import Fact
from .findings import WORDS, ShownFinding
from .given import said, takes
from .heats import ShownHeat, heat_of
from .rules import ShownRule, shown_rule


@dataclass(frozen=True, slots=True)
class ShownParam:
    """What a parameter is called, what it is for, what it takes, and what it is unless said."""

    label: str
    help: str
    takes: str
    default: str
    optional: bool


@dataclass(frozen=True, slots=True)
class ShownOperation:
    """An operation in a list: where its page is, and what it does in a line."""

    id: str
    title: str
    gist: str
    synonyms: tuple[str, ...]


def listed(kinds: Iterable[type[Operation]]) -> tuple[ShownOperation, ...]:
    """Return operations as a list shows them."""
    return tuple(ShownOperation(one.id, one.title, gist(one), one.synonyms) for one in kinds)


class OperationPage:
    """All there is to say of one operation, in the reader's units."""

    def __init__(self, kind: type[Operation], units: UnitSystem) -> None:
        self._kind = kind  # not for templates: they would call it
        self.units = units

    def _told(self, text: str) -> str:
        return retold(text, self.units)

    # -- what it is ------------------------------------------------------------------------------

    @property
    def id(self) -> str:
        """Its id, which is in its address."""
        return self._kind.id

    @property
    def title(self) -> str:
        """Its trade title."""
        return self._kind.title

    @property
    def family(self) -> str:
        """Its family in words."""
        return FAMILIES[self._kind.family]

    @property
    def gist(self) -> str:
        """What it does, in a line."""
        return self._told(gist(self._kind))

    @property
    def about(self) -> tuple[str, ...]:
        """What it does, and what to know of it, in a few sentences each."""
        first = (inspect.getdoc(self._kind) or "").partition("\n\n")[0]
        return tuple(self._told(" ".join(one.split())) for one in (first, self._kind.help) if one)

    @property
    def synonyms(self) -> tuple[str, ...]:
        """What else it is called."""
        return self._kind.synonyms

    @property
    def called(self) -> str:
        """The same in a line for a list."""
        return f"Also {', '.join(self.synonyms)}" if self.synonyms else ""

    @property
    def portrait(self) -> SafeString:
        """What its first example leaves, drawn small."""
        return next(one for one in self.examples if one.is_done).portrait

    @property
    def related(self) -> tuple[ShownOperation, ...]:
        """The others of its family."""
        family = [one for one in catalogue().values() if one.family == self._kind.family]
        return listed(one for one in family if one is not self._kind)

    @property
    def calculators(self) -> tuple[tuple[str, str], ...]:
        """The calculators that reckon for it: (id, title)."""
        return tuple((one.id, one.title) for one in of_operation(self._kind.id))

    # -- how it is done --------------------------------------------------------------------------

    @property
    def heat(self) -> ShownHeat | None:
        """The heat to work at, or None for cold work."""
        return heat_of(self._kind.heat, self.units) if self._kind.heat else None

    @property
    def heats(self) -> tuple[Fact, ...]:
        """How many heats it usually takes."""
        student, practised = self._kind.usual_heats
        welding = self._kind.usual_welding_heats
        rows = [Fact("Heats, a student", str(student)), Fact("Heats, practised", str(practised))]
        if student == practised:
            rows = [Fact("Heats", str(student))]
        if not student:
            rows = []
        return (*rows, *([Fact("Welding heats", str(welding))] if welding else []))

    @property
    def ways(self) -> tuple[Fact, ...]:
        """With what it is done, and how it was and is."""
        kind = self._kind
        rows = (
            ("By hand", ", ".join(kind.tools)),
            ("By power", ", ".join(kind.power_tools)),
            ("Helper", kind.helper),
            ("In period", kind.period),
            ("Today", kind.modern),
        )
        return tuple(Fact(label, self._told(text)) for label, text in rows if text)

    @property
    def safety(self) -> tuple[str, ...]:
        """Its safety lines."""
        return tuple(self._told(one) for one in self._kind.safety)

    # -- what it is given ------------------------------------------------------------------------

    @cached_property
    def given(self) -> tuple[tuple[ShownParam, ...], ...]:
        """Its parameters in order; those of which one is given and the others follow come together."""
        params = self._kind.params()
        blocks = {name: names for names in self._kind.one_of for name in names}
        groups = dict.fromkeys(blocks.get(name, (name,)) for name in params)
        return tuple(tuple(self._param(name) for name in names) for names in groups)

    def _param(self, name: str) -> ShownParam:
        param = self._kind.params()[name]
        default = self._kind.default(name)
        shown = (
            said(param, default, self._kind.examples[0].before, self.units)
            if default not in (None, "")
            else ""
        )
        return ShownParam(
            self._told(param.label),
            self._told(param.help),
            takes(param, self.units),
            shown,
            not param.required and default is None,
        )

    # -- its examples, and what they and its file say ---------------------------------------------

    @cached_property
    def examples(self) -> tuple[ShownExample, ...]:
        """Its examples in order."""
        kind = self._kind
        return tuple(
            ShownExample(kind, one, number, self.units) for number, one in enumerate(kind.examples, 1)
        )

    @cached_property
    def worked(self) -> tuple[ShownExample, ...]:
        """The examples that come about."""
        return tuple(one for one in self.examples if one.is_done)

    @cached_property
    def refused(self) -> tuple[ShownExample, ...]:
        """The examples that are stopped."""
        return tuple(one for one in self.examples if not one.is_done)

    @cached_property
    def said(self) -> tuple[ShownFinding, ...]:
        """Each thing that it may say once, stops first: with the numbers of the first example that does."""
        found = {one.code: one for example in reversed(self.examples) for one in example.findings}
        for code, written in self._written():
            found.setdefault(code, written)
        order = list(Level)
        return tuple(
            sorted(found.values(), key=lambda one: (order.index(Level(one.level)), one.anchor == ""))
        )

    def _written(self) -> Iterator[tuple[str, ShownFinding]]:
        for one in sayings(self._kind):
            shown = ShownFinding(
                level=one.level,
                word=WORDS[one.level],
                code=one.code,
                text=self._told(one.message),
                hint=self._told(one.hint),
                source=self._told(one.source),
                field="",
                anchor="",
                number=0,
            )
            yield one.code, shown

    @property
    def warnings(self) -> tuple[ShownFinding, ...]:
        """What it may say beside the stops of its refused examples."""
        shown = {one.code for example in self.refused for one in example.findings}
        return tuple(one for one in self.said if one.code not in shown)

    @cached_property
    def rules(self) -> tuple[ShownRule, ...]:
        """The rules about a whole procedure that speak up at it."""
        return tuple(shown_rule(one, self.units) for one in rules_at(self._kind))
