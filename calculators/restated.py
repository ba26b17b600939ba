"""A formula stated in inches, where its sum holds in any unit of length: its working for who reads inches."""

from __future__ import annotations

from calculators import units
from calculators.formula import Formula
from calculators.sections import Section

_POWERS = {"mm": 1, "mm²": 2, "mm³": 3}


def in_inches(formula: Formula) -> Formula:
    """Return the same formula with every length in inches, areas in square inches.

    Raises ValueError for one whose sum holds in house units only.
    """
    if not formula.any_unit:
        raise ValueError(f"{formula.id} holds in house units only.")
    factor = units.factor("in")
    changed: dict[str, object] = {}
    for name, limits in formula.inputs():
        value = getattr(formula, name)
        if isinstance(value, Section):
            changed[name] = value.scaled(1 / factor)
        elif limits.unit in _POWERS:
            changed[name] = _neat(value / factor ** _POWERS[limits.unit])
    return formula.but(**changed)


def inch_unit(unit: str) -> str:
    """Return what a house unit of length, area or volume is called in inches; others stay."""
    return unit.replace("mm", "in") if unit in _POWERS else unit


def _neat(value: float) -> float:
    """Return a value without what dividing by 25.4 left in its last places."""
    return float(f"{value:.12g}")
