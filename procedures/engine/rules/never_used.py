"""Marks that no step uses."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.document import Step
from procedures.engine.finding import Level
from procedures.engine.frames import Flag, Frame, PartReplay, Replay
from procedures.engine.judging.rule import Case, Rule
from procedures.engine.parameters.place_params import NamedPosition
from procedures.engine.phrases import listed
from procedures.engine.pieces.place import Place, Position
from procedures.engine.trial import at, end, square, step, trial


class NeverUsed(Rule):
    """Compares the marks that are put with those that places are measured from."""

    code = "mark.never_used"
    level = Level.NOTE
    title = "Every mark has its use"
    help = "A mark that nothing is measured from is one pop more to mistake for another."
    source = "common practice, no source"

    def look(self, replayed: Replay) -> Iterator[Flag]:
        used = {name for part in replayed.parts for frame in part.frames for name in _used(frame)}
        brought = {name.split(" ", 1)[1] for name in used if " " in name}  # from another part: "rod A"
        for part in replayed.parts:
            yield from self._unused(part, used | brought)

    def _unused(self, part: PartReplay, used: set[str]) -> Iterator[Flag]:
        for frame in part.frames:
            names = [one for one in _put(frame) if one not in used]
            if names and frame.status == "done":
                yield self.flag(
                    frame,
                    "{marks} " + ("is a mark" if len(names) == 1 else "are marks") + " that no step uses.",
                    hint="Measure from it, or leave it out." if len(names) == 1 else "Leave them out.",
                    field="marks",
                    marks=listed(names),
                )

    examples = (
        Case(
            "Two marks, of which one is used",
            trial(
                step("mark_out", marks=[{"name": "A", **at(60)}, {"name": "B", **at(90)}], heats=0),
                step(
                    "draw_out", where={"on": "bar", "datum": "mark", "mark": "A"}, target=square(10), heats=1
                ),
            ),
            fires=("s1",),
        ),
        Case(
            "Both are used",
            trial(
                step("mark_out", marks=[{"name": "A", **at(60)}, {"name": "B", **at(90)}], heats=0),
                step(
                    "draw_out",
                    where={"on": "bar", "datum": "between", "mark": "A", "mark_to": "B"},
                    target=square(10),
                ),
            ),
        ),
        Case("No marks at all", trial(step("draw_out", where=end(60), target=square(10)))),
    )


def _put(frame: Frame) -> Iterator[str]:
    """Yield the marks that a step puts."""
    for value in frame.operation.given_values if frame.operation else ():
        if isinstance(value, NamedPosition):
            yield value.name


def _used(frame: Frame) -> Iterator[str]:
    """Yield the marks that the places of a step are measured from, and that it names on another part."""
    for name in frame.operation.params() if frame.operation else ():
        if name.startswith("part_"):
            yield str(getattr(frame.operation, name) or "")
    values = frame.operation.given_values if frame.operation else ()
    for value in (*values, *_heated(frame.step)):
        place = value.position if isinstance(value, NamedPosition) else value
        if isinstance(place, Place):
            yield from (place.mark, place.mark_to)
        elif isinstance(place, Position):
            yield place.mark


def _heated(step: Step) -> tuple[Place, ...]:
    return (step.heated,) if step.heated else ()
