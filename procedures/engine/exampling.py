"""Running the examples of operations: what the tests check and the guide shows are one thing."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.judging.rule import Rule
from procedures.engine.rulebook import judged, rulebook

from .document import Document, Part, Step, read
from .frames import Frame, PartReplay, Replay
from .operation import Example, Operation
from .replay import replay, work
from .scale import ScaleHabit


def run(kind: type[Operation], example: Example) -> Frame:
    """Return the frame of an example, after the steps that it says come first.

    Raises ValueError when one of those does not come about: then the example itself is wrong.
    """
    return frames(kind, example)[-1]


def frames(kind: type[Operation], example: Example) -> tuple[Frame, ...]:
    """Return the frames of the steps that come first, and that of the example. Raises ValueError as `run`."""
    piece = example.before
    part = Part(piece.root.name, piece.name, piece.stock.section, piece.stock.length, piece.material)
    scale = ScaleHabit(forging=example.scale, welding=example.weld_scale)
    done = []
    for number, (operation, params) in enumerate(example.first, start=1):
        frame = work(part, Step(f"first-{number}", operation, params), piece, number=number)
        if frame.status != "done":
            reasons = " ".join(one.text() for one in frame.findings)
            raise ValueError(f"{example.title}: its step {number}, {operation}, is refused. {reasons}")
        done.append(frame)
        piece = frame.after
    step = Step("example", kind.id, example.params, heats=example.heats, welding_heats=example.welding_heats)
    return *done, work(part, step, piece, number=len(done) + 1, scale=scale)


def rules_at(kind: type[Operation]) -> tuple[Rule, ...]:
    """Return the rules about whole procedures that speak up at steps of an operation, as examples show.

    Looked at are the examples of the rules that such a step is in, and its own, each as a whole procedure.
    """
    said = {
        one.code
        for replayed in (*_cases(kind), *_procedures(kind))
        for part in replayed.parts
        for frame in part.frames
        if frame.step.kind is kind
        for one in frame.findings
    }
    return tuple(rule for code, rule in rulebook().items() if code in said)


def _cases(kind: type[Operation]) -> Iterator[Replay]:
    for rule in rulebook().values():
        for case in rule.examples:
            document = read(case.document, draft=True)
            if any(step.kind is kind for part in document.parts for step in part.steps):
                yield replay(document)


def _procedures(kind: type[Operation]) -> Iterator[Replay]:
    for example in kind.examples:
        done = frames(kind, example)
        part = done[0].part
        whole = Document(example.title, (part,))
        yield judged(Replay(whole, False, "typical", (PartReplay(part, example.before, done),)))
