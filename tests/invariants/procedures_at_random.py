"""Random procedures for the laws: steps taken from the catalogue's own examples, their numbers shaken.

Every operation comes in by being in the catalogue. Values are shaken wide on purpose: a step that cannot
work must come out as a stop, never as an exception.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from procedures.engine.catalogue import catalogue
from procedures.engine.document import FORMAT, VERSION, Part, Step
from procedures.engine.frames import Frame
from procedures.engine.pieces.piece import Piece
from procedures.engine.replay import work
from procedures.engine.scale import ScaleHabit

BRANCHES = ["bar", "bar", "bar", "left", "right", "arms"]
SECTIONS = [
    {"shape": "square", "side": 12},
    {"shape": "square", "side": 20},
    {"shape": "round", "diameter": 16},
    {"shape": "flat", "width": 30, "thickness": 8},
    {"shape": "octagon", "across_flats": 14},
    {"shape": "hexagon", "across_flats": 17},
    {"shape": "half_round", "width": 20},
]
SCALES = [None, ScaleHabit(fire="coke"), ScaleHabit(forging=0.05, welding=0.15)]
factors = st.sampled_from([1.0, 1.0, 1.0, 0.5, 0.9, 1.1, 2.0])


def shaken(draw: st.DrawFn, value: Any, key: str = "") -> Any:
    """Return a stored value with its numbers shaken and its places put on some branch."""
    if key == "on":
        return draw(st.sampled_from(BRANCHES))
    if isinstance(value, bool | str):
        return value
    if isinstance(value, int) and value < 4:
        return max(value + draw(st.sampled_from([0, 0, 1, -1])), 0)
    if isinstance(value, int | float):
        return round(value * draw(factors), 3)
    if isinstance(value, Mapping):
        return {name: shaken(draw, one, name) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return [shaken(draw, one) for one in value]
    return value


@st.composite
def steps(draw: st.DrawFn, operation_id: str | None = None) -> list[dict[str, Any]]:
    """Draw the steps of one example of an operation, with what it needs done first."""
    chosen = operation_id or draw(st.sampled_from(sorted(catalogue())))
    example = draw(st.sampled_from(catalogue()[chosen].examples))
    run = [*example.first, (chosen, example.params)]
    heats = st.integers(min_value=0, max_value=3)
    return [
        {"operation": name, "params": shaken(draw, params), "heats": draw(heats)}
        for name, params in run
        if not needs_a_bench(name)
    ]


def needs_a_bench(operation_id: str) -> bool:
    """Whether an operation brings in another part, which these one-part procedures have not."""
    return any(one.kind == "part" for one in catalogue()[operation_id].params().values())


@st.composite
def frames(draw: st.DrawFn, operation_id: str) -> Frame:
    """Draw an example of an operation as it comes out with its numbers shaken and the fire burning.

    The parts it brings in are those of the example, as they lie on its bench.
    """
    example = draw(st.sampled_from(catalogue()[operation_id].examples))
    piece = example.before
    part = Part(piece.root.name, piece.name, piece.stock.section, piece.stock.length)
    for name, params in example.first:
        piece = work(part, Step("first", name, params), piece).after
    params = {key: shaken(draw, value, "" if key == "on" else key) for key, value in example.params.items()}
    heats = draw(st.integers(min_value=0, max_value=3))
    step = Step(
        "shaken", operation_id, on_its_branches(draw, params, piece), heats=heats, welding_heats=heats
    )
    return work(part, step, piece, scale=draw(st.sampled_from(SCALES)))


def on_its_branches(draw: st.DrawFn, value: Any, piece: Piece) -> Any:
    """Return a stored value with its places on branches and groups that the piece has."""
    if isinstance(value, Mapping):
        there = [*(one.name for one in piece.branches), *piece.groups]
        return {
            key: draw(st.sampled_from(there)) if key == "on" else on_its_branches(draw, one, piece)
            for key, one in value.items()
        }
    return [on_its_branches(draw, one, piece) for one in value] if isinstance(value, list) else value


@st.composite
def documents(draw: st.DrawFn, operation_id: str | None = None) -> dict[str, Any]:
    """Draw a stored one-part procedure; the operation named comes last."""
    runs = draw(st.lists(steps(), max_size=4))
    runs.append(draw(steps(operation_id)))
    flat = [one for run in runs for one in run]
    stock = {
        "section": draw(st.sampled_from(SECTIONS)),
        "length": draw(st.sampled_from([120.0, 300.0, 1000.0])),
    }
    part = {
        "key": "bar",
        "name": "Bar",
        "stock": stock,
        "steps": [{"key": f"s{index}", **one} for index, one in enumerate(flat, start=1)],
    }
    scale = draw(st.sampled_from([{}, {"fire": "coke"}, {"forging": 0.05, "welding": 0.15}]))
    return {"format": FORMAT, "version": VERSION, "title": "At random", "scale": scale, "parts": [part]}
