"""Every piece there is to show: after each example of each operation, and after each step of the demo."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from procedures.engine.catalogue import catalogue
from procedures.engine.document import read
from procedures.engine.exampling import frames
from procedures.engine.frames import Frame, Replay
from procedures.engine.replay import replay

DEMO = Path(__file__).resolve().parents[3] / "procedures" / "demo"
OPERATIONS = sorted(catalogue())
DEMOS = sorted(file.stem for file in DEMO.glob("*.json"))


def of_operation(operation: str) -> Iterator[tuple[str, Frame]]:
    """The frames that came about in the examples of an operation, each with a name."""
    kind = catalogue()[operation]
    for example in kind.examples:
        for frame in frames(kind, example):
            if frame.status == "done":
                yield f"{example.title}, step {frame.number}", frame


def demo(name: str) -> Replay:
    """A procedure of the demo, replayed."""
    return replay(read(json.loads((DEMO / f"{name}.json").read_text(encoding="utf-8"))))


def of_demo(name: str) -> Iterator[tuple[str, Frame]]:
    """The frames of a procedure of the demo, each with a name."""
    for part in demo(name).parts:
        for frame in part.frames:
            assert frame.status == "done", f"{part.part.key} {frame.number}"
            yield f"{part.part.key}, step {frame.number}", frame
