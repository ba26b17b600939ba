"""What a feature is: one file that says what it is told, what steps make it, and how it is measured after.

A subclass declares class facts and parameters, as an operation does; defining it registers it, and nothing
else is edited. It never looks at its neighbours by name: a `Setting` tells it where it stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import IntEnum
from functools import cache
from types import MappingProxyType
from typing import Any, ClassVar, Literal, Self, dataclass_transform

from calculators.declared import Declared
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.parameters import declare
from procedures.engine.parameters.params import Param, ParamError

from .seen import Seen, Size
from .setting import Setting, Work

Kind = Literal["run", "end", "at"]
KINDS = {
    "run": "Along the bar",
    "end": "At an end",
    "at": "On the run before it",
}
THIN = 4.0  # mm: what is thinner burns or bends beside heavy work; from memory

registry: dict[str, type[Feature]] = {}


class Phase(IntEnum):
    """When a step comes: heavy work before fine, section work before holes, and bending last."""

    UPSET = 10
    WELD = 20
    DRAW = 30
    HOLE = 40
    FINE = 50
    HOLE_IN_FINE = 60
    TWIST = 70
    CURL = 80
    BEND = 90


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Feature(Declared):
    """One kind of feature. `kind` says where it may stand: along the bar, at an end, on the run before."""

    id: ClassVar[str] = ""  # stands in shared addresses: never changes
    title: ClassVar[str] = ""
    help: ClassVar[str] = ""
    kind: ClassVar[Kind] = "run"
    takes_bar: ClassVar[bool] = True  # whether it has a length of bar of its own
    alone: ClassVar[bool] = False  # whether it is a whole part by itself
    inherits: ClassVar[bool] = True  # whether it takes the section of the run beside it, and not the bar's

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        if not cls.id:
            return
        known = registry.get(cls.id)
        if known is not None and known.__module__ != cls.__module__:
            raise TypeError(f"Two features are called {cls.id}: {known.__module__} and {cls.__module__}.")
        registry[cls.id] = cls

    # -- parameters ------------------------------------------------------------------------------

    @classmethod
    @cache
    def params(cls) -> Mapping[str, Param]:
        """Return the declared parameters by name, in order."""
        return MappingProxyType({name: one.about for name, one in cls.declared.items()})

    @classmethod
    def default(cls, name: str) -> Any:
        """Return the default of a parameter, or None."""
        return getattr(cls, name, None)

    @classmethod
    def read(cls, stored: Mapping[str, Any]) -> Self:
        """Return the feature with its parameters read from their stored form. Raises ParamError."""
        values: dict[str, Any] = {}
        for name, param in cls.params().items():
            if stored.get(name) is not None:
                try:
                    values[name] = param.read(stored[name])
                except ParamError as error:
                    raise error.under(name) from error
            elif param.required and cls.default(name) is None:
                raise ParamError(f"{param.label} is needed.", (name,))
        return cls(**values)

    # -- what a subclass says --------------------------------------------------------------------

    @property
    def states(self) -> Section | None:
        """The section it says that the bar has there, or None where it takes that of the run beside it."""
        return None

    def faces(self, before: Section | None, after: Section | None) -> tuple[Section, Section] | None:
        """Return its sections at its two sides, from those it meets; None while they are not known."""
        own = self.states or before or after
        return (own, own) if own is not None else None

    def base(self, setting: Setting) -> Section:
        """Return the section that its metal is brought to before its own steps."""
        return setting.root

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        """Yield (parameter, why) of what cannot be so described."""
        return iter(())

    def long(self, setting: Setting) -> float:
        """Return how long it is along the centreline when done [mm], without scale."""
        return 0.0

    def volume(self, setting: Setting) -> float:
        """Return about how much metal it holds [mm³]: where the search for its bar begins."""
        return self.long(setting) * self.base(setting).area

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        """Yield its own steps; `taken` is the bar it takes [mm], or where it lies on its run."""
        return iter(())

    def miss(self, setting: Setting, seen: Seen) -> float:
        """Return by how much it came out too long [mm], or too far from where its run begins."""
        return seen.length - self.long(setting)

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        """Yield what was described beside what comes out."""
        yield seen.long(self.long(setting))

    def said(self) -> Sentence:
        """Return it in a few words: "Stem"."""
        return say(self.title)


__all__ = ["KINDS", "THIN", "Feature", "Kind", "Phase", "Seen", "Setting", "Size", "Work", "declare"]
