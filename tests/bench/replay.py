"""Replaying a large procedure: the time of a step, that it stays so, and what the engine adds to the sums."""

from collections.abc import Iterator
from math import sqrt
from typing import Any

from calculators.formulas.scale_depth import FIRES, FORGING_HEAT
from procedures.engine.document import Document, read
from procedures.engine.replay import replay
from tests.bench import Row
from tests.bench._timing import ratio, seconds

TITLE = "Replay of a procedure of 16 branches"
ARMS = [f"arm {number}" for number in range(1, 16)]
WIDTH, THICKNESS, LENGTH = 12.0, 6.0, 900.0  # mm, of each arm
WORKED, APART = 10.0, 20.0  # mm
TARGET = (10.0, 5.0)  # mm


def run() -> Iterator[Row]:
    hundred = a_document(100)
    engine = seconds(lambda: replay(hundred))
    longer = a_document(400)
    four_times = ratio(lambda: replay(longer), lambda: replay(hundred), repeat=10)
    straight = ratio(lambda: replay(hundred), lambda: arithmetic(99))
    agree(hundred)
    yield Row("100 steps", engine * 1000, "ms", aim=100)
    yield Row("a step", engine / 100 * 1e6, "µs")
    yield Row("a step of 400 / a step of 100", four_times / 4, "x", aim=1.5)
    yield Row("replay / the same sums written out straight", straight, "x")


def a_document(count: int) -> Document:
    """A wide flat split into 15 arms, then a run of one arm after the other drawn out."""
    stock = {"shape": "flat", "width": WIDTH * len(ARMS), "thickness": THICKNESS}
    steps: list[dict[str, Any]] = [
        {
            "operation": "split",
            "params": {"where": {"on": "bar", "datum": "end", "offset": LENGTH}, "children": ARMS},
        }
    ]
    for number in range(count - 1):
        turn, arm = divmod(number, len(ARMS))
        where = {"on": ARMS[arm], "datum": "start", "offset": turn * APART, "length": WORKED}
        target = {"shape": "flat", "width": TARGET[0], "thickness": TARGET[1]}
        steps.append({"operation": "draw_out", "heats": 1, "params": {"where": where, "target": target}})
    part = {
        "key": "bar",
        "name": "Bar",
        "stock": {"section": stock, "length": LENGTH + 100},
        "steps": [{"key": f"s{number}", **one} for number, one in enumerate(steps)],
    }
    stored = {"format": "forgesite.procedure", "version": 1, "title": "Large", "parts": [part]}
    return read(stored | {"scale": {"fire": "gas"}})


def arithmetic(count: int) -> dict[str, list[tuple[float, float, float]]]:
    """The same procedure as bare numbers: (width, thickness, length) of the runs of each arm."""
    arms = {name: [(WIDTH, THICKNESS, LENGTH)] for name in ARMS}
    for number in range(count):
        turn, arm = divmod(number, len(ARMS))
        low = turn * APART
        runs = arms[ARMS[arm]]
        before, rest = cut(runs, low)
        worked, after = cut(rest, WORKED)
        slim = [recede(*one) for one in worked]
        volume = sum(width * thickness * length for width, thickness, length in slim)
        arms[ARMS[arm]] = [*before, (*TARGET, volume / (TARGET[0] * TARGET[1])), *after]
    return arms


def cut(runs: list[tuple[float, float, float]], at: float) -> tuple[list, list]:
    for index, (width, thickness, length) in enumerate(runs):
        if at < length:
            first = [(width, thickness, at)] if at > 0 else []
            return runs[:index] + first, [(width, thickness, length - at), *runs[index + 1 :]]
        at -= length
    return runs, []


def recede(width: float, thickness: float, length: float) -> tuple[float, float, float]:
    habit = FIRES["gas"].typical
    modulus = width * thickness / (2 * (width + thickness))
    depth = habit.factor * sqrt(0.00067 * modulus + 0.00363 * habit.soak)
    return width - 2 * depth, thickness - 2 * depth, length


def agree(document: Document) -> None:
    """The two must come to the same lengths, or the ratio means nothing."""
    assert FORGING_HEAT == 1150.0
    piece = replay(document).parts[0].final
    for name, runs in arithmetic(99).items():
        assert abs(piece.branch(name).length - sum(run[2] for run in runs)) < 1e-6, name
