"""Inspect: measure, and go on from what was measured where that is wanted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Operation, Result, declare
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc, Corner, Path, Spiral
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Place, Span
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import range_words
from procedures.engine.shaping.checks import no_such_bar

EVEN = 0.1  # of the size: a run this even counts as one section
FAR_OFF = 0.1  # of what was reckoned
TAPER = {
    "where": {"on": "bar", "datum": "start", "length": 40},
    "end_section": {"shape": "square", "side": 2},
}


class Inspect(Operation):
    """Compares a run with what was reckoned; the steps after it may go on from what was measured."""

    id = "inspect"
    title = "Inspect"
    family = "check"
    help = (
        "Measure a run of the cold piece. Where the steps after it go on from what was measured, the metal"
        " found more or less is written down as such: none comes or goes unseen."
    )
    synonyms = ("measure", "gauge", "check")
    tools = ("rule", "calliper")
    period = "calliper, gauge and template"
    modern = "vernier calliper; the ring of a weld, dye only by people trained for it"
    safety = ("Black heat looks cold: hold the back of the hand near before touching.",)

    where: Place = declare.place("Where", "The run that is measured.")
    look_for: str = declare.text("Look for", "What else to see to.", limit=120)
    measured_length: float | None = declare.length("Length measured", required=False)
    measured_section: Section | None = declare.section(
        "Section measured", "Where the run is of one section.", required=False
    )
    action: str = declare.choice(
        "Then",
        {"accept": "keep to the reckoning", "rebase": "go on from what was measured"},
        default="accept",
    )
    metal: str = declare.choice(
        "Of one size measured",
        {"reckoned": "the other is as reckoned", "kept": "the other follows: no metal is missing"},
        "What going on from a length or a section alone takes the other to be.",
        default="reckoned",
    )
    tolerance: float | None = declare.length("Tolerance", "How far off a size may be.", required=False)
    tool: str = declare.text("Measured with", default="rule and calliper", limit=60)

    def heated(self, piece: Piece) -> tuple[Span, ...]:
        return ()

    def problems(self, piece: Piece) -> Iterator[Finding]:
        spans = self.spans(piece)
        if self.action != "rebase":
            return
        if self.measured_length is None and self.measured_section is None:
            yield stop(
                "inspect.nothing_measured",
                "There is no measurement to go on from.",
                hint="Give a length or a section, or keep to the reckoning.",
                field="measured_length",
                mend={"action": "accept"},
                source="geometry",
            )
        for span in spans:
            branch = piece.branch(span.branch)
            if self.measured_section is not None:
                yield from no_such_bar(branch, span, self.measured_section, "measured_section")
            if self.measured_section is not None and not _is_even(branch, span):
                first, last = branch.sections_between(span.low, span.high)
                yield stop(
                    "inspect.not_one_section",
                    "This run goes from {first:section} to {last:section}: it has not one section.",
                    hint="Measure a run of one section, or only the length.",
                    first=first,
                    last=last,
                    field="measured_section",
                    mend={"measured_section": None},
                    source="geometry",
                )

    def transform(self, piece: Piece) -> Piece:
        for span in self.spans(piece):
            if self.action == "rebase":
                piece = self._rebased(piece, span)
            else:
                piece = piece.noting(span)
        return piece

    def _rebased(self, piece: Piece, span: Span) -> Piece:
        branch = piece.branch(span.branch)
        run = branch.segments_between(span.low, span.high)
        volume = sum(one.volume for one in run)
        if self.metal == "kept" and self.measured_length is None and self.measured_section is not None:
            stretch = volume / (self.measured_section.area * span.length)
        else:
            stretch = 1.0 if self.measured_length is None else self.measured_length / span.length
        measured = tuple(self._as_measured(one, stretch) for one in run)
        found = sum(one.volume for one in run) - sum(one.volume for one in measured)
        return piece.reshaped(span, *measured).losing("measured", found)

    def _as_measured(self, segment: Segment, stretch: float) -> Segment:
        section = self.measured_section
        thicker = stretch**-0.5 if self.metal == "kept" and section is None else 1.0
        return replace(
            segment,
            start=section or segment.start.scaled(thicker),
            end=section or segment.end.scaled(thicker),
            bulge=segment.bulge * thicker,
            length=segment.length * stretch,
            path=_stretched(segment.path, stretch),
        )

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        span = self.spans(before)[0]
        if self.measured_length is not None:
            yield from self._off("length", self.measured_length, span.length, "measured_length")
        if self.measured_section is not None:
            present, _ = before.branch(span.branch).sections_between(span.low, span.high)
            measured = self.measured_section
            yield from self._off("width", measured.width, present.width, "measured_section")
            if (measured.width, present.width) != (measured.thickness, present.thickness):
                yield from self._off("thickness", measured.thickness, present.thickness, "measured_section")

    def _off(self, what: str, measured: float, reckoned: float, field: str) -> Iterator[Finding]:
        if reckoned <= 0:
            return
        ratio = measured / reckoned
        if abs(ratio - 1) > FAR_OFF:
            yield caution(
                "inspect.far_off",
                "The {what}, {measured:length}, is {off:percent} off the {reckoned:length} reckoned.",
                hint="Measure again, or see whether a step was done otherwise.",
                what=what,
                measured=measured,
                off=abs(ratio - 1),
                reckoned=reckoned,
                field=field,
                source="a tenth: common practice, no source",
            )
        elif self.tolerance is not None and abs(measured - reckoned) > self.tolerance:
            yield caution(
                "inspect.out_of_tolerance",
                "The {what}, {measured:length}, is {off:length} off; {tolerance:length} is let pass.",
                hint="Rework it, or go on from what was measured.",
                what=what,
                measured=measured,
                off=abs(measured - reckoned),
                tolerance=self.tolerance,
                field=field,
                source="the step's own tolerance",
            )
        elif measured != reckoned:
            yield note(
                "inspect.ratio",
                "The {what} measured is {ratio:number} of the {reckoned:length} reckoned.",
                what=what,
                ratio=ratio,
                reckoned=reckoned,
                field=field,
                source="geometry",
            )

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        tool = f" with {self.tool}" if self.tool else ""
        look_for = f" Look for: {self.look_for.rstrip('.')}." if self.look_for else ""
        if self.action == "rebase":
            return say(
                "Measure {run}{tool}: {found}. Go on from that.{look_for}",
                run=range_words(before, self.where),
                tool=tool,
                found=self._found(),
                look_for=look_for,
            )
        return say(
            "Measure {run}{tool}: it should be {reckoned}.{look_for}",
            run=range_words(before, self.where),
            tool=tool,
            reckoned=_reckoned(before, self.spans(before)[0]),
            look_for=look_for,
        )

    def _found(self) -> Sentence:
        if self.measured_section is None:
            return say("{long:length} found", long=self.measured_length)
        if self.measured_length is None:
            return say("{section:section} found", section=self.measured_section)
        return say(
            "{section:section}, {long:length} long found",
            section=self.measured_section,
            long=self.measured_length,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        within = say(", within {by:length}", by=self.tolerance) if self.tolerance is not None else ""
        reckoned = _reckoned(after, after.worked[0])
        return say("{reckoned}{within}", reckoned=reckoned, within=within)

    examples = (
        Example(
            "A taper reckoned 100.5 long is measured 99: later marks come nearer by 1.5",
            before=bar(Section.square(12), 300, marks={"A": 280}),
            first=(("taper", TAPER),),
            params={
                "where": {"on": "bar", "datum": "start", "length": 100.465},
                "measured_length": 99,
                "action": "rebase",
            },
            after=(Result(length=359.0, worked=99, marks={"A": 339.0}),),
            cautions=("inspect.ratio",),
            source="300 - 40 + 99; 99 / 100.47 = 0.985",
        ),
        Example(
            "The bar bought as 12 square is really 11.8: the ledger says what is missing",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "whole"},
                "measured_section": {"shape": "square", "side": 11.8},
                "action": "rebase",
            },
            after=(Result(length=300, section=Section.square(11.8)),),
            lost=11.21,
            source="300 (12² - 11.8²) × 7.85e-3 = 11.21 g",
        ),
        Example(
            "More metal than reckoned is entered as a loss below nothing",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "whole"},
                "measured_length": 302,
                "action": "rebase",
                "tolerance": 1,
            },
            after=(Result(length=302),),
            lost=-2.26,
            cautions=("inspect.out_of_tolerance",),
            source="-2 × 12² × 7.85e-3 = -2.26 g",
        ),
        Example(
            "A run measured short with no metal missing is so much thicker",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "start", "length": 100},
                "measured_length": 96,
                "action": "rebase",
                "metal": "kept",
            },
            after=(Result(length=296, worked=96, at={50: Section.square(12.2474)}),),
            lost=0.0,
            cautions=("inspect.ratio",),
            source="300 - 100 + 96; the side is 12 √(100/96) = 12.247",
        ),
        Example(
            "A run measured thick with no metal missing is so much shorter",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "whole"},
                "measured_section": {"shape": "square", "side": 12.5},
                "action": "rebase",
                "metal": "kept",
            },
            after=(Result(length=276.48, section=Section.square(12.5)),),
            lost=0.0,
            source="300 × 12² / 12.5² = 276.48",
        ),
        Example(
            "A bar scarfed at both ends is told by its middle too",
            before=bar(Section.flat(25, 8), 300),
            first=(
                ("scarf", {"on": "bar", "length": 14, "face": "up"}),
                ("scarf", {"on": "bar", "end": "start", "length": 14, "face": "down"}),
            ),
            params={"where": {"on": "bar", "datum": "whole"}},
            after=(Result(length=308.75),),
            says=("25 × 3 mm at one end, 25 × 8 mm in the middle",),
            source="each slope holds 14 × (8 + 3) / 2 / 8 = 9.625 of bar: 300 + 2 × (14 - 9.625)",
        ),
        Example(
            "A leaf is told by its widest place",
            before=bar(Section.flat(20, 8), 200),
            first=(
                (
                    "spread",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 25},
                        "outline": "leaf",
                        "thickness": 3,
                        "width": 30,
                    },
                ),
            ),
            params={"where": {"on": "bar", "datum": "whole"}},
            after=(Result(length=241.7),),
            says=("20 × 8 mm going to 30 × 3 mm at the widest of its end",),
            source="25 × 160 / (2/3 × 30 × 3) = 66.7; 175 + 66.7",
        ),
        Example(
            "Accepted: nothing changes",
            before=bar(Section.square(12), 300),
            params={
                "where": {"on": "bar", "datum": "whole"},
                "measured_length": 299,
                "look_for": "cracks at the corners",
            },
            after=(Result(length=300),),
            lost=0.0,
        ),
        Example(
            "With nothing measured there is nothing to go on from",
            before=bar(Section.square(12), 300),
            params={"where": {"on": "bar", "datum": "whole"}, "action": "rebase"},
            refused=("inspect.nothing_measured",),
        ),
        Example(
            "One section cannot stand for a taper",
            before=bar(Section.square(12), 300),
            first=(("taper", TAPER),),
            params={
                "where": {"on": "bar", "datum": "start", "length": 80},
                "measured_section": {"shape": "square", "side": 5},
                "action": "rebase",
            },
            refused=("inspect.not_one_section",),
        ),
    )


def _is_even(branch: Branch, span: Span) -> bool:
    """Whether a run is of one section but for what scale made uneven."""
    along = branch.sections_along(span.low, span.high)
    sizes = ([one.thickness for one in along], [one.width for one in along])
    return all(max(one) - min(one) <= EVEN * max(one) for one in sizes)


def _stretched(path: Path, stretch: float) -> Path:
    """Return the same curve, of the same angle, at another length."""
    if isinstance(path, Arc):
        return replace(path, radius=path.radius * stretch)
    if isinstance(path, Spiral):
        return replace(path, first=path.first * stretch, last=path.last * stretch)
    if isinstance(path, Corner):
        return replace(path, before=path.before * stretch, after=path.after * stretch)
    return path


def _reckoned(piece: Piece, span: Span) -> Sentence:
    """Return what a run is by the reckoning: its section, or those at its ends, and its length.

    The middle is told too where it is thicker or thinner than both ends, as in a bar scarfed for a lap.
    """
    branch = piece.branch(span.branch)
    first, last = branch.sections_between(span.low, span.high)
    if _is_even(branch, span):
        return say("{section:section}, {long:length} long", section=first, long=span.length)
    tip = branch.segments_between(span.low, span.high)[-1]
    if tip.bulge:
        return say(
            "{first:section} going to {widest:section} at the widest of its end, {long:length} long",
            first=first,
            widest=tip.widest,
            long=span.length,
        )
    middle = branch.section_at((span.low + span.high) / 2)
    low, high = sorted((first.area, last.area))
    if not low - EVEN * high <= middle.area <= (1 + EVEN) * high:
        return say(
            "{first:section} at one end, {middle:section} in the middle and {last:section} at the other end, "
            "{long:length} long",
            first=first,
            middle=middle,
            last=last,
            long=span.length,
        )
    return say(
        "{first:section} going to {last:section}, {long:length} long",
        first=first,
        last=last,
        long=span.length,
    )
