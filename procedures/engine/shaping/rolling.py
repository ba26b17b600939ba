"""Rolling an end up: the bar that goes round, and the neck that sets a loop on the line of its bar."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.wording import say
from procedures.engine.finding import Unworkable, stop
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.path import Corner
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH, Segment

from .curving import Bending, depth, laid

_NECK = 90.0  # degrees that the neck of a centred loop is bent back


@dataclass(frozen=True, slots=True)
class Rolling:
    """A loop to be rolled at an `end`: its bend, the straight `tail` [mm] left at the tip, and its neck.

    A centred loop is bent square the other way where it begins, on the spot, so that its middle comes to lie
    on the line of the bar.
    """

    bending: Bending
    end: End
    tail: float = 0.0
    centred: bool = False

    def arc(self, branch: Branch) -> Span:
        """Return the range that goes round; where the bar tapers, by the section half way round.

        Raises Unworkable when the branch is too short.
        """
        if self.end == "end":
            span = self.bending.span(branch, branch.length - self.tail, "arc_end")
        else:
            span = self.bending.span(branch, self.tail, "arc_start")
        over = max(-span.low, span.high - branch.length)
        if over > TOUCH:
            raise Unworkable(
                stop(
                    "loop.longer_than_the_branch",
                    "It takes {arc:length} of bar{tail}; {branch} is {long:length} long.",
                    hint="Take a smaller diameter or sweep, or more bar.",
                    arc=span.length,
                    tail=say(" and {tail:length} beyond it", tail=self.tail) if self.tail else "",
                    branch=branch.said,
                    long=branch.length,
                    field="inside_diameter",
                    source="geometry",
                )
            )
        return Span(branch.name, max(span.low, 0.0), min(span.high, branch.length))

    def neck(self, branch: Branch, arc: Span) -> Span:
        """Return the short run of stem that ends in the bend back; empty where the loop is not centred.

        Raises Unworkable where the loop leaves no stem.
        """
        at_end = self.end == "end"
        root = arc.low if at_end else arc.high
        if not self.centred:
            return Span(branch.name, root, root)
        stem = root if at_end else branch.length - root
        if stem < TOUCH:
            raise Unworkable(
                stop(
                    "loop.no_stem",
                    "All of {branch} is rolled up: there is no bar left for the loop to be centred on.",
                    hint="Let it go to one side, or take a smaller diameter.",
                    branch=branch.said,
                    field="style",
                    source="geometry",
                    mend={"style": "side"},
                )
            )
        half = min(depth(branch.section_at(root), self.bending.plane) / 2, stem)
        return Span(branch.name, root - half, root) if at_end else Span(branch.name, root, root + half)

    def span(self, branch: Branch) -> Span:
        """Return the whole range that is worked: loop and neck."""
        arc = self.arc(branch)
        neck = self.neck(branch, arc)
        return Span(branch.name, min(arc.low, neck.low), max(arc.high, neck.high))

    def run(self, branch: Branch) -> tuple[Segment, ...]:
        """Return the metal of that range as it lies when done."""
        arc = self.arc(branch)
        rolled = laid(branch.segments_between(arc.low, arc.high), self.bending.path(arc.length))
        neck = self.neck(branch, arc)
        if neck.length < TOUCH:
            return rolled
        at_end = self.end == "end"
        before, after = (neck.length, 0.0) if at_end else (0.0, neck.length)
        back = Corner(before, after, _NECK, self.bending.plane, -self.bending.sense)
        bent = laid(branch.segments_between(neck.low, neck.high), back)
        return (*bent, *rolled) if at_end else (*rolled, *bent)
