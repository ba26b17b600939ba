"""Going on from what was measured: what the rest of a part becomes.

What is measured after a step is put into the procedure as an inspection that goes on from it, so that the
rest is reckoned by the same replay as everything else. Of one size measured the other follows from the metal,
which does not go missing by itself; where both are, metal may be missing or over. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from calculators.sections import Section

from .document import Document, Part, Step
from .finding import Finding, Level
from .frames import Frame, PartReplay, Replay
from .pieces.branch import Branch
from .pieces.piece import Piece
from .pieces.place import Span
from .pieces.segment import TOUCH
from .replay import replay

NEAR = 0.5  # mm: what a rule and a hammer are held to by; nearer is as planned
NEAR_SHARE = 0.01  # of a length: the same, of a long one; common practice, no source
EVEN = 0.03  # of a size: a run this even is of one section
TRIES = 4  # to find the section of a later step: the length is very nearly a power of it
Kind = Literal["run", "whole"]


@dataclass(frozen=True, slots=True)
class Gauge:
    """What can be measured after a step: the run that it worked, or the whole of its branch.

    `section` is what the plan says it is there; None where it is not of one section.
    """

    kind: Kind
    span: Span
    section: Section | None

    @property
    def branch(self) -> str:
        """The branch it is on."""
        return self.span.branch

    @property
    def length(self) -> float:
        """How long it is by the plan [mm]."""
        return self.span.length


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured after a step (by its key) on a branch; a length [mm], a section, or both."""

    step: str
    kind: Kind
    branch: str
    length: float | None = None
    section: Section | None = None


@dataclass(frozen=True, slots=True)
class Size:
    """One size that was planned and what it becomes [mm]; `now` is None where it no longer comes about."""

    step: int  # 0 for the finished piece
    kind: Literal["run", "whole", "mark"]
    name: str  # of the branch or the mark
    planned: float
    now: float | None
    planned_section: Section | None = None
    section: Section | None = None

    @property
    def is_near(self) -> bool:
        """Whether it is as planned, as near as a smith works."""
        return self.now is not None and abs(self.now - self.planned) <= near(self.planned)


@dataclass(frozen=True)
class Outlook:
    """What the rest of a part becomes: sizes still to come, step by step, and those of the finished piece."""

    document: Document
    planned: PartReplay
    replayed: PartReplay
    coming: tuple[Size, ...]
    finished: tuple[Size, ...]
    new_findings: tuple[tuple[int, Finding], ...]  # (number in the plan, finding)


def near(length: float) -> float:
    """Return by how much a length [mm] may be off and still be as planned."""
    return max(NEAR, NEAR_SHARE * length)


def gauges(frame: Frame) -> tuple[Gauge, ...]:
    """Return what can be measured after a step that came about: runs worked, then whole branches."""
    if frame.status != "done":
        return ()
    piece = frame.after
    spans = {one.branch: one for one in reversed(piece.worked) if piece.has_branch(one.branch)}
    runs = [Gauge("run", one, one_section(piece.branch(one.branch), one)) for one in spans.values()]
    names = list(spans) or [piece.root.name]
    wholes = [whole_of(piece.branch(name)) for name in names]
    told = [one.span for one in runs]
    return (*runs, *(one for one in wholes if not any(_same(one.span, other) for other in told)))


def with_measured(planned: Replay, part: str, measured: Sequence[Measured]) -> Replay:
    """Return the replay that goes on from what was measured, in the order it was.

    What names a step or a run that is not there, is left out.
    """
    current = planned
    for number, one in enumerate(measured, start=1):
        found = part_of(current, part)
        frame = next((each for each in found.frames if each.key == one.step), None)
        last = last_inspection(found, one.step)
        gauge = _gauge(frame, last, one) if frame else None
        if gauge is None or (one.length is None and one.section is None):
            continue
        step = _inspection(f"measured-{number}", gauge, one)
        changed = with_steps(current.document, part, after=last.key if last else one.step, steps=(step,))
        current = replay_of(changed, current)
    return current


def outlook(planned: Replay, part: str, measured: Sequence[Measured]) -> Outlook:
    """Return what the rest of a part becomes after what was measured."""
    now = with_measured(planned, part, measured)
    old, new = part_of(planned, part), part_of(now, part)
    begun = max((_number(old, one.step) for one in measured), default=0)
    coming = tuple(size for frame in old.frames[begun:] for size in sizes_of(frame, twin_of(new, frame)))
    return Outlook(now.document, old, new, coming, finished_sizes(old, new), tuple(new_findings_of(old, new)))


# -- what is measured --------------------------------------------------------------------------------


def whole_of(branch: Branch) -> Gauge:
    span = Span(branch.name, 0.0, branch.length)
    return Gauge("whole", span, one_section(branch, span))


def one_section(branch: Branch, span: Span) -> Section | None:
    first, last = branch.sections_between(span.low, span.high)
    along = branch.sections_along(span.low, span.high)
    sizes = [one.thickness for one in along], [one.width for one in along]
    even = all(max(one) - min(one) <= EVEN * max(one) for one in sizes)
    return first.blend(last, 0.5) if even and first.shape == last.shape else None


def _one_section_of(piece: Piece) -> Section | None:
    span = piece.worked[0]
    return one_section(piece.branch(span.branch), span)


def _same(one: Span, other: Span) -> bool:
    return one.branch == other.branch and abs(one.low - other.low) + abs(one.high - other.high) < TOUCH


def is_meant(gauge: Gauge, measured: Measured) -> bool:
    """Whether a gauge is what was measured; a run that is all of its branch is told as the run."""
    return gauge.branch == measured.branch and gauge.kind == measured.kind


def _gauge(frame: Frame, last: Frame | None, measured: Measured) -> Gauge | None:
    """Return what was measured as it is by the reckoning so far: after earlier measurements at that step."""
    gauge = next((one for one in gauges(frame) if is_meant(one, measured)), None)
    if gauge is None or last is None or not last.after.has_branch(gauge.branch):
        return gauge
    branch = last.after.branch(gauge.branch)
    if gauge.kind == "whole":
        return whole_of(branch)
    here = next((one for one in last.after.worked if one.branch == gauge.branch), None)
    if here is None or here.length >= branch.length - TOUCH:
        return gauge if gauge.span.high <= branch.length else None
    return Gauge("run", here, one_section(branch, here))


def _inspection(key: str, gauge: Gauge, measured: Measured) -> Step:
    where = {
        "on": gauge.branch,
        "datum": "start",
        "offset": gauge.span.low,
        "length": gauge.span.length,
    }
    params: dict[str, object] = {"where": where, "action": "rebase", "metal": "kept"}
    if measured.length is not None:
        params["measured_length"] = measured.length
    if measured.section is not None:
        params["measured_section"] = measured.section.to_json()
    return Step(key, "inspect", params)


def last_inspection(part: PartReplay, step: str) -> Frame | None:
    """Return the last inspection put in after a step, or None."""
    found = None
    follows = False
    for frame in part.frames:
        if follows and not frame.key.startswith("measured-"):
            break
        if follows and frame.status == "done":
            found = frame
        follows = follows or frame.key == step
    return found


# -- replaying ---------------------------------------------------------------------------------------


def part_of(replayed: Replay, key: str) -> PartReplay:
    found = replayed.part(key)
    if found is None:
        raise KeyError(key)
    return found


def with_part(document: Document, part: Part) -> Document:
    return replace(document, parts=tuple(part if one.key == part.key else one for one in document.parts))


def with_steps(document: Document, key: str, *, after: str, steps: tuple[Step, ...]) -> Document:
    part = document.part(key)
    assert part is not None
    at = next(index for index, one in enumerate(part.steps) if one.key == after) + 1
    return with_part(document, replace(part, steps=(*part.steps[:at], *steps, *part.steps[at:])))


def replay_of(document: Document, like: Replay) -> Replay:
    return replay(document, nominal=like.nominal, estimate=like.estimate, earlier=like)


# -- comparing ---------------------------------------------------------------------------------------


def _number(part: PartReplay, key: str) -> int:
    return next((one.number for one in part.frames if one.key == key), 0)


def twin_of(part: PartReplay, frame: Frame) -> Frame | None:
    return next((one for one in part.frames if one.key == frame.key and one.status == "done"), None)


def sizes_of(frame: Frame, twin: Frame | None) -> Iterator[Size]:
    """Yield the sizes of a step in the plan with what they become."""
    now = {(one.kind, one.branch): one for one in gauges(twin)} if twin else {}
    for one in gauges(frame):
        other = now.get((one.kind, one.branch))
        yield Size(
            frame.number,
            one.kind,
            one.branch,
            one.length,
            other.length if other else None,
            one.section,
            other.section if other else None,
        )
    for name, at in _new_marks(frame).items():
        yield Size(frame.number, "mark", name, at, _new_marks(twin).get(name) if twin else None)


def _new_marks(frame: Frame) -> dict[str, float]:
    """Return the marks that a step strikes, with how far each is from the start of its branch [mm]."""
    had = {(branch.name, one.name) for branch in frame.before.branches for one in branch.marks}
    return {
        one.name: one.at
        for branch in frame.after.branches
        for one in branch.marks
        if (branch.name, one.name) not in had
    }


def finished_sizes(old: PartReplay, new: PartReplay) -> tuple[Size, ...]:
    """Return the length of every branch of the finished piece with what it becomes."""
    now = {one.name: one.length for one in new.final.branches} if new.is_complete else {}
    return tuple(
        Size(0, "whole", one.name, one.length, now.get(one.name)) for one in old.final.branches if one.length
    )


def new_findings_of(old: PartReplay, new: PartReplay) -> Iterator[tuple[int, Finding]]:
    """Yield the stops and cautions that the plan did not have, with the number of their step there."""
    for frame in old.frames:
        twin = next((one for one in new.frames if one.key == frame.key), None)
        known = {one.code for one in frame.findings}
        for one in twin.findings if twin else ():
            if one.level != Level.NOTE and not one.silenced and one.code not in known:
                yield frame.number, one
