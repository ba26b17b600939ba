"""Small stored procedures, written short: what the examples of rules are made of."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from .document import FORMAT, VERSION

Stored = dict[str, Any]


def trial(*steps: Stored, key: str = "bar", **rest: Any) -> Stored:
    """Return a procedure of one part; see `part` and `trials` for the rest."""
    whole = {name: rest.pop(name) for name in ("scale",) if name in rest}
    return trials(part(*steps, key=key, **rest), **whole)


def trials(*parts: Stored, **more: Any) -> Stored:
    """Return a procedure of several parts."""
    return {"format": FORMAT, "version": VERSION, "title": "A trial", "parts": list(parts), **more}


def part(
    *steps: Stored,
    key: str = "bar",
    side: float = 12,
    length: float = 600,
    section: Mapping[str, Any] | None = None,
    material: str = "mild_steel",
) -> Stored:
    """Return a part whose steps are numbered s1, s2, ...; square bar unless a section is given."""
    stock = {"section": dict(section or {"shape": "square", "side": side}), "length": length}
    numbered = [{"key": f"s{number}", **one} for number, one in enumerate(steps, start=1)]
    return {"key": key, "name": key.capitalize(), "material": material, "stock": stock, "steps": numbered}


def step(operation: str, *, heats: int = 1, welding_heats: int = 0, tongs: str = "", **params: Any) -> Stored:
    """Return a step without its key; `params` are those of its operation."""
    own: Stored = {"operation": operation, "params": params, "heats": heats}
    if welding_heats:
        own["welding_heats"] = welding_heats
    return own | ({"tongs": tongs} if tongs else {})


def end(length: float | None = None, on: str = "bar", **more: Any) -> Stored:
    """Return the range of the last `length` mm."""
    return {"on": on, "datum": "end", **({} if length is None else {"length": length}), **more}


def beginning(length: float, on: str = "bar", **more: Any) -> Stored:
    """Return the range of the first `length` mm."""
    return {"on": on, "datum": "start", "length": length, **more}


def whole(on: str = "bar") -> Stored:
    """Return the range of all of a branch or of each member of a group."""
    return {"on": on, "datum": "whole"}


def at(offset: float, datum: str = "end", on: str = "bar") -> Stored:
    """Return a point so far from an end."""
    return {"on": on, "datum": datum, "offset": offset}


def square(side: float) -> Stored:
    """Return a stored square section."""
    return {"shape": "square", "side": side}


def flat(width: float, thickness: float) -> Stored:
    """Return a stored flat section."""
    return {"shape": "flat", "width": width, "thickness": thickness}
