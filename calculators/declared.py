"""Classes that declare what their objects are made of: formulas their inputs, operations their parameters.

Their objects behave as those of a frozen dataclass. But a dataclass has its methods written and compiled anew
for every class, and with some ninety of them that was a fifth of what it takes to find the catalogue.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, FrozenInstanceError
from typing import Any, ClassVar, NamedTuple, NoReturn, Self


class Declaration(NamedTuple):
    """What is declared of an attribute, and its default: MISSING where it must be given."""

    about: Any
    default: Any = MISSING


class Declared:
    """Made from what its class declares, by name; never changes, and equals one of the same values.

    Raises TypeError for what is not declared, and for what is neither given nor has a default.
    """

    declared: ClassVar[Mapping[str, Declaration]] = {}

    def __init_subclass__(cls) -> None:
        """Gather what is declared, that of the bases first; defaults stay on the class, as in a dataclass."""
        super().__init_subclass__()
        own = {name: one for name, one in vars(cls).items() if isinstance(one, Declaration)}
        for name, one in own.items():
            if one.default is MISSING:
                delattr(cls, name)
            else:
                setattr(cls, name, one.default)
        above = (one for base in reversed(cls.__bases__) for one in getattr(base, "declared", {}).items())
        cls.declared = {**dict(above), **own}

    def __init__(self, **given: Any) -> None:
        for name, one in self.declared.items():
            value = given.pop(name, one.default)
            if value is MISSING:
                raise TypeError(f"{type(self).__name__} needs {name}.")
            vars(self)[name] = value
        if given:
            raise TypeError(f"{type(self).__name__} has no {', '.join(given)}.")

    def but(self, **changed: Any) -> Self:
        """Return the same with other values of these names. Raises as making one does."""
        values = dict(zip(self.declared, self._values(), strict=True))
        return type(self)(**{**values, **changed})

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise FrozenInstanceError(f"{name} of {type(self).__name__} cannot be changed.")

    def __delattr__(self, name: str) -> NoReturn:
        raise FrozenInstanceError(f"{name} of {type(self).__name__} cannot be taken away.")

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self._values() == other._values()

    def __hash__(self) -> int:
        return hash((type(self), *self._values()))

    def __repr__(self) -> str:
        given = (f"{name}={getattr(self, name)!r}" for name in self.declared)
        return f"{type(self).__name__}({', '.join(given)})"

    def _values(self) -> tuple[Any, ...]:
        return tuple(getattr(self, name) for name in self.declared)
