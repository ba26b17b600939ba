"""Short ways to ask for stock in tests."""

from __future__ import annotations

from typing import Any

from procedures.engine.document import Document, read
from procedures.engine.replay import replay_part
from procedures.stock.explaining import Hindrance, hindrance
from procedures.stock.solving import NoStock, solve
from procedures.stock.target import Target
from procedures.stock.unknown import Unknown
from tests.unit.engine.documents import a_document


def a_bar(*steps: dict[str, Any], section: dict[str, Any], length: float, fire: str = "coke") -> Document:
    part = {
        "key": "bar",
        "name": "Bar",
        "stock": {"section": section, "length": length},
        "steps": [{**step, "key": f"s{index}"} for index, step in enumerate(steps, start=1)],
    }
    return read(a_document(part, scale={"fire": fire}))


def square(side: float) -> dict[str, Any]:
    return {"shape": "square", "side": side}


def round_(diameter: float) -> dict[str, Any]:
    return {"shape": "round", "diameter": diameter}


def fed_forward(
    document: Document, target: Target, unknown: Unknown, value: float, **how: Any
) -> float | None:
    """What comes of a value by a replay of its own."""
    return target.measured(replay_part(unknown.put(document, "bar", value), "bar", **how))


def why_not(document: Document, target: Target, unknown: Unknown | None = None) -> Hindrance:
    unknown = unknown or Unknown()
    part = document.part("bar")
    assert part is not None
    try:
        solve(document, "bar", target, unknown)
    except NoStock as fault:
        return hindrance(fault, target, unknown.said(part))
    raise AssertionError("There was such a stock.")
