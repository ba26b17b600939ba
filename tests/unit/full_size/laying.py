"""Patterns of small parts, and what is read off them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import procedures
from calculators.wording import METRIC, UnitSystem
from procedures.engine import document
from procedures.engine.replay import replay
from procedures.full_size import Offered, Pattern, offered
from procedures.full_size.pattern import Arc, Line, Words
from tests.unit.engine.documents import a_document, a_part, a_step

DEMO = Path(procedures.__path__[0]) / "demo"


def laid_out(
    *steps: dict[str, Any],
    step: int | None = None,
    nominal: bool = True,
    units: UnitSystem = METRIC,
    **bar: Any,
) -> Offered:
    """What there is of a bar worked so; `section` in its stored form goes before a side."""
    section = bar.pop("section", None)
    part = a_part(*steps, **bar)
    if section:
        part["stock"]["section"] = section
    read = document.read(a_document(part), draft=True)
    twin = None if nominal else replay(read, nominal=True)
    return offered(replay(read, nominal=nominal), "bar", units, step=step, nominal=twin)


def demo(name: str, part: str, *, nominal: bool = True) -> Offered:
    """What there is of a part of a demo procedure."""
    read = document.read(json.loads((DEMO / f"{name}.json").read_text()), draft=True)
    return offered(replay(read, nominal=nominal), part, METRIC)


def marked(*places: float) -> dict[str, Any]:
    """A step that marks these distances from the start: A, B, C and on."""
    marks = [
        {"name": chr(65 + index), "on": "bar", "datum": "start", "offset": at}
        for index, at in enumerate(places)
    ]
    return a_step("mark_out", marks=marks)


def bent(at: float = 150, angle: float = 90, radius: float = 30, turn: str = "up") -> dict[str, Any]:
    where = {"on": "bar", "datum": "start", "offset": at}
    return a_step("bend", where=where, angle=angle, inside_radius=radius, turn=turn)


def lines(pattern: Pattern, layer: str) -> list[Line]:
    return [one for one in pattern.items if isinstance(one, Line) and one.layer == layer]


def arcs(pattern: Pattern, layer: str) -> list[Arc]:
    return [one for one in pattern.items if isinstance(one, Arc) and one.layer == layer]


def words(pattern: Pattern) -> list[str]:
    return [one.words.replace("\N{NO-BREAK SPACE}", " ") for one in pattern.items if isinstance(one, Words)]
