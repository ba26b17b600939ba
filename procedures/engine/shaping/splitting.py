"""Dividing bar lengthwise into strips: how wide each comes out, what it is as a section, where it lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from calculators.leaves import leaf_volume
from calculators.sections import Section
from procedures.engine.pieces.branch import Branch, End, Mark
from procedures.engine.pieces.origin import shared
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH, Segment

_SHARP = ("flat", "square", "edge")


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip of the width: from the left, between two shares (0..1) of it, less what the saw takes.

    `kerf` is the width of a cut [mm]; a strip gives up half of it at each side that was cut.
    """

    name: str
    low: float
    high: float
    kerf: float = 0.0

    @property
    def share(self) -> float:
        """Its share of the width, kerf not reckoned."""
        return self.high - self.low

    def width(self, section: Section) -> float:
        """Return how wide [mm] it is where the bar has this section; 0 or less where the saw takes it all."""
        cut_sides = (self.low > 0) + (self.high < 1)
        return self.share * section.width - self.kerf / 2 * cut_sides

    def offset(self, section: Section) -> float:
        """Return how far its middle lies to the left of the bar's [mm]."""
        middle = 0.5 - (self.low + self.high) / 2
        leaning = (self.high < 1) - (self.low > 0)  # a strip cut on one side only
        return middle * section.width + self.kerf / 4 * leaning

    def section(self, section: Section) -> Section:
        """Return its section: of what is not square-cornered, the flat of the same area for its width."""
        if section.width == 0:
            return section
        if section.shape in _SHARP:
            return section.resized(width=self.width(section))
        return Section.flat(self.width(section), section.area / section.width)

    def segment(self, segment: Segment) -> Segment:
        """Return the strip of a segment, with its share of where the metal came from."""
        start, end = self.section(segment.start), self.section(segment.end)
        times = _correction(segment)
        if abs(times - 1) > 1e-12:
            start, end = (
                one if one.area == 0 else one.resized(thickness=one.thickness * times) for one in (start, end)
            )
        strip = replace(segment, start=start, end=end, bulge=segment.bulge * self.share)
        part = strip.volume / segment.volume if segment.volume > 0 else self.share
        return replace(strip, origin=shared(segment.origin, part))


def _correction(segment: Segment) -> float:
    """Return by how much flats taken for other sections are too thin, so that no metal is lost."""
    if segment.start.shape in _SHARP and segment.end.shape in _SHARP:
        return 1.0
    whole = Strip("", 0.0, 1.0)
    start, end = whole.section(segment.start), whole.section(segment.end)
    flat = leaf_volume(start, end, segment.length, segment.bulge, segment.circle)
    return segment.volume / flat if flat > 0 else 1.0


def strips(names: Sequence[str], widths: Sequence[float], kerf: float) -> tuple[Strip, ...]:
    """Return the strips of these relative widths, from the left."""
    whole = sum(widths)
    edges = [0.0, *(done / whole for done in accumulate(widths[:-1])), 1.0]
    return tuple(
        Strip(name, edges[index], edges[index + 1], kerf) for index, name in enumerate(names[: len(widths)])
    )


def taken_by_kerf(cut: Sequence[Strip], run: Sequence[Segment]) -> Strip | None:
    """Return the first strip of which the saw leaves nothing somewhere along a run, or None."""
    sections = [section for one in run for section in (one.start, one.end)]
    for strip in cut:
        if any(strip.width(one) <= 0 and (one.width > 0 or strip.kerf > 0) for one in sections):
            return strip
    return None


def beyond(branch: Branch, span: Span, end: End) -> Branch:
    """Return what lies beyond the crotch as a branch from there to its tip, with its marks."""
    run = branch.segments_between(span.low, span.high)
    if end == "end":
        marks = tuple(replace(one, at=one.at - span.low) for one in branch.marks if one.at > span.low + TOUCH)
        return Branch(branch.name, run, marks)
    swap = {"start": "end", "end": "start", "metal": "metal"}
    marks = tuple(
        Mark(one.name, span.high - one.at, swap[one.holds])  # type: ignore[arg-type]
        for one in reversed(branch.marks)
        if one.at < span.high - TOUCH
    )
    return Branch(branch.name, tuple(one.turned() for one in reversed(run)), marks)


def rest(branch: Branch, span: Span, end: End) -> Branch:
    """Return what is left of a branch once the run beyond the crotch is no longer part of it."""
    if end == "end":
        return replace(
            branch,
            segments=branch.segments_between(0.0, span.low),
            marks=tuple(one for one in branch.marks if one.at <= span.low + TOUCH),
            features=tuple(replace(one, at=min(one.at, span.low)) for one in branch.features),
        )
    gone = span.high
    return replace(
        branch,
        segments=branch.segments_between(gone, branch.length),
        marks=tuple(
            replace(one, at=max(one.at - gone, 0.0)) for one in branch.marks if one.at >= gone - TOUCH
        ),
        features=tuple(replace(one, at=max(one.at - gone, 0.0)) for one in branch.features),
    )
