"""All formulas, found by their files: `formulas/bar_mass.py` holds the formula whose id is "bar_mass"."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from calculators import formulas
from calculators.formula import Formula


@cache
def all_formulas() -> dict[str, type[Formula]]:
    """Return the formulas by id, in order of their ids.

    Raises TypeError when a file does not hold exactly one formula of its name.
    """
    found = {}
    for module in iter_modules(formulas.__path__):
        name = f"{formulas.__name__}.{module.name}"
        held = [
            value
            for value in vars(import_module(name)).values()
            if isinstance(value, type) and issubclass(value, Formula) and value.__module__ == name
        ]
        if [formula.id for formula in held] != [module.name]:
            raise TypeError(f"formulas/{module.name}.py must hold one formula with the id {module.name!r}.")
        found[module.name] = held[0]
    return dict(sorted(found.items()))


def formula(id: str) -> type[Formula]:
    """Return the formula of an id. Raises KeyError when there is none."""
    return all_formulas()[id]
