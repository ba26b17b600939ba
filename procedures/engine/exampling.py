"""Running the examples of an operation: what the tests check and the help page shows are one thing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from .document import Part, Step
from .operation import Example, Operation
from .replay import Frame, work
from .scale import ScaleHabit


def run(kind: type[Operation], example: Example) -> Frame:
    """Return the frame of an example, after the steps that it says come first.

    Raises ValueError when one of those does not come about: then the example itself is wrong.
    """
    return frames(kind, example)[-1]


def frames(kind: type[Operation], example: Example) -> tuple[Frame, ...]:
    """Return the frames of the steps that come first, and that of the example. Raises ValueError as `run`."""
    piece = example.before
    part = Part(piece.root.name, piece.name, piece.stock.section, piece.stock.length, piece.material.id)
    scale = ScaleHabit(forging=example.scale, welding=example.weld_scale)
    done = []
    for number, (operation, params) in enumerate(example.first, start=1):
        frame = work(part, _step(operation, params), piece, number=number)
        if frame.status != "done":
            reasons = " ".join(one.text() for one in frame.findings)
            raise ValueError(f"{example.title}: its step {number}, {operation}, is refused. {reasons}")
        done.append(frame)
        piece = frame.after
    step = _step(kind.id, example.params, heats=example.heats, welding_heats=example.welding_heats)
    return *done, work(part, step, piece, number=len(done) + 1, scale=scale)


def _step(operation: str, params: Mapping[str, Any], heats: int = 0, welding_heats: int = 0) -> Step:
    return Step("example", operation, params, heats=heats, welding_heats=welding_heats)
