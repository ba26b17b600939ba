"""How an operation declares its parameters: one function for each kind.

Each takes the label and the help a form shows; `required=False` lets a parameter be left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING
from typing import Any

from calculators.declared import Declaration
from procedures.engine.pieces.metal_left import LENGTH_LIMIT

from .params import (
    Angle,
    Angles,
    BranchParam,
    Choice,
    Flag,
    Length,
    Name,
    Names,
    Number,
    Numbers,
    Param,
    PartParam,
    SectionParam,
    Text,
)
from .place_params import Marks, PlaceParam, PositionParam, Positions


def _declared(param: Param, default: Any) -> Any:
    if default is MISSING and not param.required:
        default = None
    return Declaration(param, default)


def place(label: str = "Where", help: str = "", *, required: bool = True) -> Any:
    """Declare a range."""
    return _declared(PlaceParam(label, help, required), MISSING)


def position(label: str = "Where", help: str = "", *, required: bool = True) -> Any:
    """Declare a point."""
    return _declared(PositionParam(label, help, required), MISSING)


def positions(label: str = "Where", help: str = "") -> Any:
    """Declare one or more points."""
    return _declared(Positions(label, help), MISSING)


def marks(label: str = "Marks", help: str = "") -> Any:
    """Declare marks to be put."""
    return _declared(Marks(label, help), MISSING)


def section(label: str, help: str = "", *, required: bool = True) -> Any:
    """Declare a cross-section."""
    return _declared(SectionParam(label, help, required), MISSING)


def length(
    label: str,
    help: str = "",
    *,
    default: Any = MISSING,
    required: bool = True,
    least: float | None = None,
    above: float | None = 0.0,
    most: float | None = LENGTH_LIMIT,
) -> Any:
    """Declare a length in mm; by default it must be above 0."""
    above = None if least is not None else above
    param = Length(label, help, required, least=least, above=above, most=most, unit="mm")
    return _declared(param, default)


def angle(
    label: str,
    help: str = "",
    *,
    default: Any = MISSING,
    required: bool = True,
    least: float | None = None,
    above: float | None = None,
    most: float | None = 360.0,
) -> Any:
    """Declare an angle in degrees."""
    return _declared(Angle(label, help, required, least=least, above=above, most=most, unit="°"), default)


def number(
    label: str,
    help: str = "",
    *,
    default: Any = MISSING,
    required: bool = True,
    least: float | None = None,
    above: float | None = None,
    most: float | None = None,
    whole: bool = False,
    unit: str = "",
) -> Any:
    """Declare a plain number, a whole one if so said."""
    param = Number(label, help, required, least=least, above=above, most=most, whole=whole, unit=unit)
    return _declared(param, default)


def choice(label: str, choices: Mapping[str, str], help: str = "", *, default: Any = MISSING) -> Any:
    """Declare a choice of a few words: {stored word: label}."""
    return _declared(Choice(label, help, choices=tuple(choices.items())), default)


def flag(label: str, help: str = "", *, default: bool = False) -> Any:
    """Declare a yes or no."""
    return _declared(Flag(label, help, required=False), default)


def text(label: str, help: str = "", *, default: Any = "", limit: int = 200) -> Any:
    """Declare a line of words."""
    return _declared(Text(label, help, required=False, limit=limit), default)


def name(label: str, help: str = "", *, default: Any = MISSING, required: bool = True) -> Any:
    """Declare a name for something the step makes."""
    return _declared(Name(label, help, required), default)


def names(
    label: str, help: str = "", *, default: Any = MISSING, required: bool = True, least: int = 1
) -> Any:
    """Declare several names."""
    return _declared(Names(label, help, required, least=least), default)


def branch(label: str = "On", help: str = "") -> Any:
    """Declare a branch or a group that is there already."""
    return _declared(BranchParam(label, help), MISSING)


def numbers(label: str, help: str = "", *, required: bool = True) -> Any:
    """Declare several plain numbers."""
    return _declared(Numbers(label, help, required), MISSING)


def angles(label: str, help: str = "", *, required: bool = True, most: float = 180.0) -> Any:
    """Declare several angles in degrees."""
    return _declared(Angles(label, help, required, most=most), MISSING)


def part(label: str = "Other part", help: str = "", *, required: bool = True) -> Any:
    """Declare another part of the procedure that this step brings in."""
    return _declared(PartParam(label, help, required), MISSING)
