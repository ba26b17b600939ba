"""The ways back to the finished size from what was measured: each tried by a replay, none promised unseen.

Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from calculators.sections import Section
from calculators.wording import Sentence, say

from .document import Document, Step
from .finding import Finding, Level
from .frames import Frame, PartReplay, Replay
from .pieces.piece import Piece
from .pieces.place import Span
from .pieces.segment import TOUCH
from .replan import (
    EVEN,
    Gauge,
    Measured,
    Size,
    finished_sizes,
    gauges,
    is_meant,
    last_inspection,
    near,
    one_section,
    part_of,
    replay_of,
    with_measured,
    with_part,
    with_steps,
)

TRIES = 4  # to find the section of a later step: the length is very nearly a power of it


@dataclass(frozen=True)
class Way:
    """One way to go on: the steps it adds or changes, and the part as it then comes out.

    `finished` are the lengths of the finished piece, `stops` what stands against the way.
    """

    id: Literal["accept", "draw_further", "draw_out", "upset", "cut", "later"]
    said: Sentence
    replayed: PartReplay
    finished: tuple[Size, ...]
    stops: tuple[Finding, ...] = ()

    @property
    def miss(self) -> float:
        """By what share the finished piece is off at its worst; 0 where all is as near as a smith works."""
        if self.stops or any(one.now is None for one in self.finished):
            return 1.0
        return max((_miss(one) for one in self.finished), default=0.0)


def ways(planned: Replay, part: str, measured: Sequence[Measured]) -> Iterator[Way]:
    """Yield the ways to go on from the last thing measured, as they are found: first to leave it."""
    now = with_measured(planned, part, measured)
    old, new = part_of(planned, part), part_of(now, part)
    yield Way("accept", say("Leave it as it is and go on."), new, finished_sizes(old, new), _stops(new))
    last = measured[-1] if measured else None
    frame = next((one for one in old.frames if last and one.key == last.step), None)
    gauge = next((one for one in gauges(frame) if last and is_meant(one, last)), None) if frame else None
    inspection = last_inspection(new, last.step) if last else None
    if last is None or frame is None or gauge is None or inspection is None:
        return
    found = Gauge(last.kind, inspection.after.worked[0], _section_of(inspection.after))
    for id_, said, step in _steps_back(inspection.after, gauge, found):
        changed = with_steps(now.document, part, after=inspection.key, steps=(step,))
        tried = part_of(replay_of(changed, now), part)
        yield Way(id_, said, tried, finished_sizes(old, tried), _stops(tried))
    if (later := _later(now, part, old, frame.number, gauge.branch)) is not None:
        yield later


def best_first(found: Sequence[Way]) -> list[Way]:
    """Return ways by how near they come to the plan; of those that come as near, the less work first."""
    return sorted(found, key=lambda one: (bool(one.stops), round(one.miss, 3), found.index(one)))


def _miss(size: Size) -> float:
    return 0.0 if size.is_near else abs((size.now or 0.0) - size.planned) / size.planned


def _stops(part: PartReplay) -> tuple[Finding, ...]:
    return tuple(one for frame in part.frames for one in frame.of_level(Level.STOP))


_Back = tuple[Literal["draw_further", "draw_out", "upset", "cut"], Sentence, Step]


def _steps_back(piece: Piece, planned: Gauge, found: Gauge) -> Iterator[_Back]:
    """Yield single steps that bring what was measured back to a size of the plan."""
    where = {"on": found.branch, "datum": "start", "offset": found.span.low, "length": found.length}
    short = planned.length - found.length
    if planned.section and found.section and found.section.area > (1 + 2 * EVEN) * planned.section.area:
        yield (
            "draw_further",
            say("Draw it further, down to {section:section}.", section=planned.section),
            Step("way", "draw_out", {"where": where, "target": planned.section.to_json()}, heats=1),
        )
    if short > near(planned.length):
        yield (
            "draw_out",
            say("Draw it out until it is {long:length} long, thinner than planned.", long=planned.length),
            Step("way", "draw_out", {"where": where, "final_length": planned.length}, heats=1),
        )
    if -short > near(planned.length):
        if (position := _cut_at(piece, found.span, -short)) is not None:
            yield (
                "cut",
                say("Cut {over:length} off the end.", over=-short),
                Step("way", "cut_off", {"at": position, "method": "saw"}),
            )
        yield (
            "upset",
            say("Jump it up until it is {long:length} long, thicker than planned.", long=planned.length),
            Step("way", "upset", {"where": where, "final_length": planned.length}, heats=1),
        )


def _cut_at(piece: Piece, span: Span, over: float) -> dict[str, object] | None:
    """Return where to cut what is over off a run at a free end of its branch; None where it has none."""
    branch = piece.branch(span.branch)
    jointed = any(at > span.low for one in piece.joints for at in one.on(branch.name))
    if jointed or piece.children(branch.name, "end") or span.high < branch.length - TOUCH:
        return None
    return {"on": branch.name, "datum": "end", "offset": over}


def _later(now: Replay, part: str, old: PartReplay, since: int, branch: str) -> Way | None:
    """Return the way that draws a later run to another section, so that its branch ends as planned.

    The last step that draws this branch to a section given is the one to change.
    """
    steps = [
        one
        for one in old.frames[since:]
        if one.status == "done"
        and one.step.operation == "draw_out"
        and "target" in one.step.params
        and any(span.branch == branch for span in one.worked)
    ]
    if not steps or not old.final.has_branch(branch):
        return None
    frame, wanted = steps[-1], old.final.branch(branch).length
    target = Section.from_json(frame.step.params["target"])
    factor, tried = 1.0, part_of(now, part)
    for _ in range(TRIES):
        if not tried.is_complete or not tried.final.has_branch(branch):
            return None
        missing = wanted - tried.final.branch(branch).length
        if abs(missing) <= near(wanted) / 10:
            break
        run = next(one for one in tried.frames if one.key == frame.key).after.worked[0].length
        if run + missing <= 0:
            return None
        factor *= (run / (run + missing)) ** 0.5  # the run's length goes with one over its area
        tried = part_of(replay_of(_retargeted(now.document, part, frame, target.scaled(factor)), now), part)
    if factor == 1.0:
        return None
    said = say(
        "Go on, and in step {number} draw to {section:section} in place of {planned:section}.",
        number=str(frame.number),
        section=target.scaled(factor),
        planned=target,
    )
    return Way("later", said, tried, finished_sizes(old, tried), _stops(tried))


def _retargeted(document: Document, key: str, frame: Frame, target: Section) -> Document:
    part = document.part(key)
    assert part is not None
    changed = replace(frame.step, params={**frame.step.params, "target": target.to_json()})
    steps = tuple(changed if one.key == frame.key else one for one in part.steps)
    return with_part(document, replace(part, steps=steps))


def _section_of(piece: Piece) -> Section | None:
    """Return the section of what was last worked, where it is one."""
    span = piece.worked[0]
    return one_section(piece.branch(span.branch), span)
