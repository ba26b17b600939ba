"""What an operation may have to say, read off its file: every stop, caution and note that is written in it.

Examples show findings with their numbers, but no operation has an example for each of them. What a finding
would say is a template; where its numbers would be stands an ellipsis.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from string import Formatter

from .finding import Level
from .operation import Operation

_CALLS = {"stop": Level.STOP, "caution": Level.CAUTION, "note": Level.NOTE}
_GAP = "…"


@dataclass(frozen=True, slots=True)
class Saying:
    """One finding as it is written down: its texts with gaps for the numbers."""

    level: Level
    code: str
    message: str
    hint: str
    source: str


def sayings(kind: type[Operation]) -> tuple[Saying, ...]:
    """Return what is written in the file of an operation, and in those of the classes it is made from.

    Findings of checks that it shares with others are not among them: its examples show those.
    """
    homes = dict.fromkeys(sys.modules[one.__module__].__file__ for one in kind.__mro__ if _is_its_own(one))
    found: dict[str, Saying] = {}
    for home in homes:
        for one in _written(home or ""):
            # What several operations share is written with the code of whichever it is.
            said = replace(one, code=one.code.replace(f"{_GAP}.", f"{kind.id}.", 1))
            found.setdefault(said.code, said)
    return tuple(one for one in found.values() if one.message.strip(_GAP))


def _is_its_own(one: type) -> bool:
    return issubclass(one, Operation) and one is not Operation


@cache
def _written(home: str) -> tuple[Saying, ...]:
    tree = ast.parse(Path(home).read_text(encoding="utf-8"))
    calls = (one for one in ast.walk(tree) if isinstance(one, ast.Call))
    return tuple(said for call in calls for said in _said(call))


def _said(call: ast.Call) -> Iterator[Saying]:
    level = _CALLS.get(call.func.id) if isinstance(call.func, ast.Name) else None
    if level and len(call.args) > 1:
        more = {one.arg: _text(one.value) for one in call.keywords if one.arg in ("hint", "source")}
        code, message = (_text(one) for one in call.args[:2])
        yield Saying(level, code, message, more.get("hint", ""), more.get("source", ""))


def _text(node: ast.expr) -> str:
    """Return a text as it is written, with a gap for each value; "" where it is not written there."""
    if isinstance(node, ast.IfExp):
        return _text(node.body)
    if isinstance(node, ast.JoinedStr):
        return "".join(_text(one) for one in node.values)
    if isinstance(node, ast.FormattedValue):
        return _GAP
    if not (isinstance(node, ast.Constant) and isinstance(node.value, str)):
        return ""
    parts = Formatter().parse(node.value)
    text = "".join(literal + (_GAP if name is not None else "") for literal, name, _, _ in parts)
    text = text.removesuffix(f"{_GAP}.") + _GAP if text.endswith(f"{_GAP}.") else text
    return text.removesuffix(f": {_GAP}")  # what comes of it is another word each time
