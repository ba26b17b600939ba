"""Tapering a run: which end gets thin, how much bar a wanted length takes, and what forbids it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from calculators.profiles import profile_sections, profile_volume
from calculators.roots import rising_root
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, Unworkable, stop
from procedures.engine.operation import Operation, worked_length
from procedures.engine.parameters import declare
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment, close
from procedures.engine.place_words import owner_words, range_words

from .checks import closed_ring, no_such_bar, plain_bar

ENDS = {"free": "the end of the bar it lies at", "end": "toward the end", "start": "toward the start"}
_LEAST = 1e-6  # mm of bar: where the search for the length used begins


def end_meant(branch: Branch, span: Span, choice: str) -> End:
    """Return the end of a range that is meant by one of ENDS; in the middle of a bar "free" is "end"."""
    if choice == "start":
        return "start"
    at_start_only = close(span.low, 0) and not close(span.high, branch.length)
    return "start" if choice == "free" and at_start_only else "end"


@dataclass(frozen=True)
class Tapering:
    """A taper to be made of a range, or of as much of it, from its thin end, as a wanted `length` [mm] takes.

    `thin` is one of ENDS. `thick_from` and `thin_from` give the sections of the taper's two ends, from that
    of the bar where the taper begins. `field` names the parameter that says how thin. A `bow` makes it
    hollow, or swelled when it is less than nothing: see `calculators.profiles`. Such a taper is a run of even
    segments hardly off its curve, which hold its volume to the last figure.
    """

    thin: str
    thick_from: Callable[[Section], Section]
    thin_from: Callable[[Section], Section]
    length: float | None
    length_field: str
    field: str
    bow: float = 0.0

    def side(self, branch: Branch, span: Span) -> End:
        """Return the end of the range that gets thin."""
        return end_meant(branch, span, self.thin)

    def present(self, branch: Branch, span: Span) -> Section:
        """Return the section of the bar at the end of a run that stays thick."""
        first, last = branch.sections_between(span.low, span.high)
        return first if self.side(branch, span) == "end" else last

    def sections(self, branch: Branch, span: Span) -> tuple[Section, Section]:
        """Return the sections at the thick and at the thin end of the taper made of a run."""
        present = self.present(branch, span)
        return self.thick_from(present), self.thin_from(present)

    def used(self, branch: Branch, span: Span) -> Span:
        """Return the run of the range that becomes the taper.

        Raises Unworkable when the range holds too little metal for the wanted length.
        """
        if self.length is None:
            return span
        wanted = self.length
        side = self.side(branch, span)
        thick, thin = self.sections(branch, span)
        if branch.volume_between(span.low, span.high) <= 0 or thick.area + thin.area <= 0:
            raise Unworkable(_nothing_there(branch))

        def reach(used: float) -> Span:
            if side == "end":
                return replace(span, low=span.high - used)
            return replace(span, high=span.low + used)

        def needed(run: Span) -> float:
            first, last = branch.sections_between(run.low, run.high)
            present = first if side == "end" else last
            return self._volume(self.thick_from(present), self.thin_from(present), wanted)

        def spare(used: float) -> float:
            run = reach(used)
            return branch.volume_between(run.low, run.high) - needed(run)

        if spare(span.length) < 0:
            raise Unworkable(self._not_enough_bar(branch, span, wanted))
        if _is_even(branch, span):
            return reach(needed(span) / self.present(branch, span).area)
        try:
            return reach(rising_root(spare, 0.0, _LEAST, span.length))
        except ValueError:
            raise Unworkable(self._not_enough_bar(branch, span, wanted)) from None

    def _not_enough_bar(self, branch: Branch, span: Span, wanted: float) -> Finding:
        each = self._volume(*self.sections(branch, span), 1.0)
        most = branch.volume_between(span.low, span.high) / each
        return stop(
            "taper.not_enough_bar",
            "A taper of {wanted:length} takes more bar than the {there:length} of this range.",
            hint="These make a taper of {most:length}. Give a longer range, or a shorter taper.",
            wanted=wanted,
            there=span.length,
            most=most,
            field=self.length_field,
            source="geometry",
        )

    def _volume(self, thick: Section, thin: Section, length: float) -> float:
        return profile_volume(thick, thin, length, self.bow)

    def made(self, branch: Branch, run: Span) -> tuple[Segment, ...]:
        """Return the taper made of all the metal of a run; more than one segment where it is not straight."""
        thick, thin = self.sections(branch, run)
        volume = branch.volume_between(run.low, run.high)
        if volume <= 0 or thick.area + thin.area <= 0:
            raise Unworkable(_nothing_there(branch))
        length = volume / self._volume(thick, thin, 1.0)
        sections = profile_sections(thick, thin, self.bow)
        if self.side(branch, run) != "end":
            sections = sections[::-1]
        each = length / (len(sections) - 1)
        return tuple(Segment(one, two, each) for one, two in pairwise(sections))

    def problems(self, branch: Branch, span: Span) -> Iterator[Finding]:
        """Yield what makes the taper impossible. Raises Unworkable as `used` does."""
        yield from plain_bar(branch, span)
        run = self.used(branch, span)
        present = self.present(branch, run)
        thick, thin = self.sections(branch, run)
        yield from no_such_bar(branch, run, thick, "start_section", pointed=True)
        yield from no_such_bar(branch, run, thin, self.field, pointed=True)
        if thick.area > 1.02 * present.area:
            yield stop(
                "taper.thick_end_too_big",
                "The thick end, {thick:section}, is more than the {present:section} that is there.",
                hint="Choose a smaller section, or upset first.",
                thick=thick,
                present=present,
                field="start_section",
                source="geometry; 2 % from memory",
            )
        elif thin.area >= thick.area:
            yield stop(
                "taper.end_not_thinner",
                "The thin end, {thin:section}, is not thinner than the thick end, {thick:section}.",
                hint="Choose a smaller end, or upset instead.",
                thin=thin,
                thick=thick,
                field=self.field,
                source="geometry",
            )
        else:
            yield from self._metal_for(branch, run, self._volume(thick, thin, run.length))

    def _metal_for(self, branch: Branch, run: Span, needed: float) -> Iterator[Finding]:
        """Stop a taper that would come out shorter than its run: it would have to be upset."""
        there = branch.volume_between(run.low, run.high)
        if there < 0.98 * needed:
            yield stop(
                "taper.not_enough_metal",
                "This run holds {there:volume}; a taper of its length needs {needed:volume}.",
                hint="Choose a thinner end, or upset first.",
                there=there,
                needed=needed,
                field=self.field,
                source="geometry; 2 % from memory",
            )


def _is_even(branch: Branch, span: Span) -> bool:
    run = branch.segments_between(span.low, span.high)
    return all(one.is_even and one.start == run[0].start for one in run)


def _nothing_there(branch: Branch) -> Finding:
    return stop(
        "taper.nothing_there",
        "There is no metal to taper here on {branch}.",
        hint="Choose a range that holds some.",
        branch=branch.said,
        field="where",
        source="geometry",
    )


class TaperingOperation(Operation):
    """What the operations have in common that make a taper: they say which by `plan`."""

    where: Place = declare.place("Where", "The run of bar. With a wanted length: the most that may be used.")

    def plan(self) -> Tapering:
        """Return the taper to be made."""
        raise TypeError(f"{type(self).__name__} does not say which taper it makes.")

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        """Return the runs of bar that become tapers. Raises Unworkable."""
        plan = self.plan()
        return tuple(plan.used(piece.branch(one.branch), one) for one in piece.spans(self.where))

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        """Return the runs that take scale; where the length is wanted, one thickness more of each.

        Scale makes such a taper take more bar, and that is hot as well.
        """
        plan, runs = self.plan(), self.spans(piece)
        if plan.length is None:
            return runs
        most = piece.spans(self.where)
        return tuple(_longer(piece, plan, run, limit) for run, limit in zip(runs, most, strict=True))

    def problems(self, piece: Piece) -> Iterator[Finding]:
        """Yield what makes the taper impossible, on each member of a group."""
        plan = self.plan()
        for span in piece.spans(self.where):
            branch = piece.branch(span.branch)
            if close(span.low, 0.0) or close(span.high, branch.length):
                yield from closed_ring(piece, branch, "where")
            yield from plan.problems(branch, span)

    def transform(self, piece: Piece) -> Piece:
        """Return the piece with the tapers made."""
        plan = self.plan()
        for span in self.spans(piece):
            piece = piece.reshaped(span, *plan.made(piece.branch(span.branch), span))
        return piece

    def ends(self, after: Piece) -> tuple[Section, Section]:
        """Return the sections at the thick and at the thin end of the first finished taper."""
        span = after.worked[0]
        branch = after.branch(span.branch)
        first, last = branch.sections_between(span.low, span.high)
        return (first, last) if self.plan().side(branch, span) == "end" else (last, first)

    def run_words(self, before: Piece, after: Piece) -> Sentence:
        """Return how the run of bar is said that became a taper."""
        if self.plan().length is None:
            return range_words(before, self.where)
        span, branch = after.worked[0], after.branch(after.worked[0].branch)
        used = span.length - (branch.length - before.branch(span.branch).length)
        nth = "the first " if close(span.low, 0) else "the last " if close(span.high, branch.length) else ""
        return say(f"{nth}{{used:length}} of {{on}}", used=used, on=owner_words(before, self.where.on))

    def check(self, before: Piece, after: Piece) -> Sentence:
        """Return what to measure: the thin end and the length."""
        _, thin = self.ends(after)
        tip = say("{thin:section} at the thin end", thin=thin) if thin.area else "Sharp at the thin end"
        return say("{tip}, {long:length} from shoulder to tip", tip=tip, long=worked_length(after))


def _longer(piece: Piece, plan: Tapering, run: Span, limit: Span) -> Span:
    branch = piece.branch(run.branch)
    more = plan.present(branch, run).thickness
    if plan.side(branch, limit) == "end":
        return replace(run, low=max(run.low - more, limit.low))
    return replace(run, high=min(run.high + more, limit.high))
