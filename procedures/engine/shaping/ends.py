"""Working the end of a branch: the run of bar there that holds so much metal, and the mark at its root."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from procedures.engine.finding import Finding, Unworkable
from procedures.engine.operation import Operation
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import Branch, End, Mark, at_share
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH, Segment

from .checks import end_taken, plain_bar

ENDS = {"end": "its end", "start": "its start"}
_ROUNDS = 60  # of settling where the bar is not even; even bar takes two


def run_at(branch: Branch, end: End, length: float) -> Span:
    """Return the run of a length [mm] at an end of a branch, or all of the branch where it is shorter."""
    length = min(length, branch.length)
    if end == "end":
        return Span(branch.name, branch.length - length, branch.length)
    return Span(branch.name, 0.0, length)


def run_holding(branch: Branch, end: End, volume: float) -> Span | None:
    """Return the run at an end of a branch that holds a volume [mm³]; None where all of it holds less."""
    whole = sum(one.volume for one in branch.segments)
    if whole <= 0 or volume > whole:
        return None
    if end == "end":
        return Span(branch.name, at_share(branch.segments, 1 - volume / whole), branch.length)
    return Span(branch.name, 0.0, at_share(branch.segments, volume / whole))


def root_section(branch: Branch, end: End, span: Span) -> Section:
    """Return the section of the bar behind a run at an end, where the run begins."""
    first, last = branch.sections_between(span.low, span.high)
    return first if end == "end" else last


def section_behind(branch: Branch, end: End, made: Span) -> Section:
    """Return the section of the bar that what was made at an end stands on."""
    before = branch.segments_between(0.0, made.low) if end == "end" else ()
    if before:
        return before[-1].end
    beyond = branch.segments_between(made.high, branch.length)
    return beyond[0].start if end == "start" and beyond else root_section(branch, end, made)


def free_mark(branch: Branch, base: str) -> str:
    """Return a name no mark of the branch has: the base, or the base and a number."""
    taken = {one.name for one in branch.marks}
    numbered = (f"{base} {number}" for number in range(2, len(taken) + 3))
    return next(name for name in (base, *numbered) if name not in taken)


def _moved_aside(segment: Segment, by: tuple[float, float]) -> Segment:
    """Return a segment that lies aside of its bar where the bar itself lies `by` [mm] aside."""
    if segment.shift is None:
        return segment
    return replace(segment, shift=(segment.shift[0] + by[0], segment.shift[1] + by[1]))


class EndWorking(Operation):
    """An operation that makes something of the metal at an end, and marks where it begins."""

    on: str = declare.branch("On", "The branch, or the group whose every member is worked.")
    end: End = declare.choice("End", ENDS, default="end")

    @abstractmethod
    def outcome(self, root: Section) -> tuple[Segment, ...]:
        """Return what comes of it on a bar of this section, from the bar outwards. Raises Unworkable."""

    @abstractmethod
    def too_short(self, branch: Branch, root: Section) -> Finding:
        """Return the stop that says the branch holds too little metal."""

    def run(self, branch: Branch) -> Span:
        """Return the run of bar it takes. Raises Unworkable where the branch holds too little."""
        span = run_at(branch, self.end, 0.0)
        root = branch.section_at(branch.length if self.end == "end" else 0.0)
        for _ in range(_ROUNDS):
            before = span
            held = run_holding(branch, self.end, sum(one.volume for one in self.outcome(root)))
            if held is None:
                raise Unworkable(self.too_short(branch, root))
            span, root = held, root_section(branch, self.end, held)
            if abs(span.length - before.length) < TOUCH / 1000:
                break
        return span

    def made(self, branch: Branch, span: Span) -> tuple[Segment, ...]:
        """Return what is made of a run of a branch: it holds just the metal of the run."""
        run = self.outcome(root_section(branch, self.end, span))
        times = branch.volume_between(span.low, span.high) / sum(one.volume for one in run)
        run = tuple(replace(one, length=one.length * times) for one in run)
        if self.end == "end":
            return run
        behind = branch.segments_between(span.low, span.high)[-1].aside_at_end
        return tuple(_moved_aside(one.turned(), behind) for one in reversed(run))

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        return tuple(self.run(piece.branch(name)) for name in piece.members(self.on))

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        """Return the runs and one thickness more of each: scale makes them take more bar."""
        hot = []
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            hot.append(run_at(branch, self.end, span.length + root_section(branch, self.end, span).thickness))
        return tuple(hot)

    def problems(self, piece: Piece) -> Iterator[Finding]:
        for name in piece.members(self.on):
            branch = piece.branch(name)
            yield from end_taken(piece, name, self.end, "end")
            for found in plain_bar(branch, self.run(branch)):
                yield replace(found, field="on")

    def worked_ends(self, piece: Piece, mark: str) -> Piece:
        """Return the piece with every end worked, and a mark of this name where each begins."""
        for span in self.spans(piece):
            branch = piece.branch(span.branch)
            run = self.made(branch, span)
            length = sum(one.length for one in run)
            piece = piece.reshaped(span, *run)
            if mark:
                at = span.low if self.end == "end" else length
                piece = piece.marked(span.branch, Mark(free_mark(piece.branch(span.branch), mark), at))
        return piece
