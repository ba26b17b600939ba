"""Checks that several operations share, each yielding findings with codes of its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from calculators.sections import Section

from .branch import Branch
from .finding import Finding, caution, stop
from .piece import Piece
from .place import Span

HELD = 60.0  # mm of bar that tongs or a hand need outside the work: from memory
THIN = 2.0  # mm: from memory
BY_HAND = 400.0  # mm: a bar longer than this is its own handle: common practice, no source


def curved_metal(branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop section work on bent, scrolled or twisted metal: its inside and outside differ in length."""
    if any(not one.is_straight for one in branch.segments_between(span.low, span.high)):
        yield stop(
            "shape.curved_metal",
            "Part of this run of {branch} is already bent or twisted.",
            hint="Do this before the bending, or straighten first.",
            branch=branch.name,
            field="where",
            source="geometry",
        )


def folded_metal(branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop section work on a fold that is not welded: its layers slide on each other."""
    if any(one.layers > 1 for one in branch.segments_between(span.low, span.high)):
        yield stop(
            "shape.folded_metal",
            "This run of {branch} is folded and not welded.",
            hint="Weld the fold first.",
            branch=branch.name,
            field="where",
            source="geometry",
        )


def grip(piece: Piece, spans: Iterable[Span]) -> Iterator[Finding]:
    """Warn when too little of a short piece is left outside the work to hold it by."""
    total = sum(one.length for one in piece.branches)
    if total > BY_HAND:
        return
    for span in spans:
        branch = piece.branch(span.branch)
        others = total - branch.length
        left = branch.length - span.length + others
        if left < HELD:
            yield caution(
                "holding.short_grip",
                "Only {left:length} is left outside the work to hold it by.",
                hint="Name the tongs that fit, or do this while the bar is longer.",
                left=left,
                source="60 mm from memory",
            )
            return


def thin_end(section: Section, field: str) -> Iterator[Finding]:
    """Warn of an end so thin that it burns before the metal behind it is hot."""
    thickness = min(section.thickness, section.width)
    if thickness < THIN:
        yield caution(
            "thin.burns",
            "An end {thickness:size} thick burns before the metal behind it is hot.",
            hint="Leave it {least:size} until the last heat, and keep it out of the heart of the fire.",
            thickness=thickness,
            least=THIN,
            field=field,
            source="2 mm from memory",
        )
