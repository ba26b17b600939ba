"""What a formula says of itself: its docstring taken apart, so that nothing is written twice."""

from __future__ import annotations

import inspect
import re
from dataclasses import dataclass
from functools import cache

from calculators.formula import Formula

_HEADS = ("Args:", "Returns:", "Raises:")


@dataclass(frozen=True, slots=True)
class FormulaWords:
    """What it reckons in a line, the formula as printed, and what is said of inputs, answer and validity."""

    gist: str
    law: str
    inputs: dict[str, str]
    returns: str
    valid: str


@cache
def words_of(kind: type[Formula]) -> FormulaWords:
    """Return the words of a formula. Raises ValueError when its docstring lacks a part."""
    parts = re.split(r"\n\s*\n", inspect.cleandoc(kind.__doc__ or ""))
    if len(parts) < 4:
        raise ValueError(f"The docstring of {kind.__name__} lacks a part.")
    found = {part.split(None, 1)[0]: part for part in parts if part.split(None, 1)[0] in (*_HEADS, "Valid")}
    return FormulaWords(
        gist=_line(parts[0]),
        law=_line(parts[1]),
        inputs=_inputs(found["Args:"]),
        returns=_line(found["Returns:"].partition(":")[2]),
        valid=_line(found["Valid"]),
    )


def _line(text: str) -> str:
    return " ".join(text.split())


def _inputs(text: str) -> dict[str, str]:
    """Return what is said of each input, by name; lines further in belong to the one above."""
    found: dict[str, str] = {}
    name = ""
    for line in text.splitlines()[1:]:
        opened = re.match(r"    (\w+): (.*)", line)
        if opened:
            name = opened[1]
            found[name] = opened[2]
        else:
            found[name] += " " + line.strip()
    return {name: re.sub(r" ?\[[^\]]*\]", "", said) for name, said in found.items()}
