"""Checks of an end that is spread: what is given, whether it is an end, whether its metal is enough."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from procedures.engine.finding import Finding, caution, stop
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, close

WIDEST = 12.0  # times as wide as thick: from memory
MOST_GROWTH = 4.0  # times the width of the bar: from memory


def sizes_given(outline: str, width: float | None, length: float | None, neck: float) -> Iterator[Finding]:
    """Stop a disc that is given its size, other outlines that are given none or two, and too wide a neck."""
    given = [name for name, size in (("width", width), ("length", length)) if size is not None]
    if outline == "disc" and given:
        yield stop(
            "spread.disc_makes_its_size",
            "The size of a disc follows from its metal and its thickness.",
            hint="Leave the width and the length out, and choose how much bar it is made of.",
            field=given[0],
            mend=dict.fromkeys(given),
            source="geometry",
        )
    elif outline != "disc" and len(given) != 1:
        yield stop(
            "spread.one_size",
            "Give either the greatest width or the length: the other follows.",
            field="width",
            mend={"length": None} if given else {},
            source="geometry",
        )
    elif outline == "leaf" and width is not None and neck >= width:
        yield stop(
            "spread.neck_too_wide",
            "The neck, {neck:size}, is not narrower than the leaf, {width:size}.",
            hint="Make it narrower.",
            neck=neck,
            width=width,
            field="neck",
            source="geometry",
        )


def bar_beyond(piece: Piece, span: Span, side: End) -> Iterator[Finding]:
    """Stop a run whose far end is no free end of a bar."""
    branch = piece.branch(span.branch)
    at_end = close(span.high, branch.length) if side == "end" else close(span.low, 0.0)
    held = bool(piece.children(branch.name, side)) or (side == "start" and branch.attached is not None)
    if not at_end or held:
        yield stop(
            "spread.bar_beyond",
            "The bar goes on beyond the far end of this run: only an end can be spread.",
            hint="Choose a run up to a free end, or flatten it instead.",
            field="where",
            source="geometry",
        )


def not_thinner(branch: Branch, span: Span, thickness: float) -> Iterator[Finding]:
    """Stop what would not make the run thinner."""
    thickest = max(branch.sections_along(span.low, span.high), key=lambda one: one.thickness)
    if thickness >= thickest.thickness:
        yield stop(
            "spread.not_thinner",
            "{wanted:size} is not thinner than the {present:section} that is there.",
            hint="Give a thickness below {limit:size}.",
            wanted=thickness,
            present=thickest,
            limit=thickest.thickness,
            field="thickness",
            source="geometry",
        )


def not_spread(branch: Branch, span: Span, run: Sequence[Segment], field: str) -> Iterator[Finding]:
    """Stop what would come out no wider than the bar, or a good deal shorter than the bar it takes."""
    present = max(branch.sections_along(span.low, span.high), key=lambda one: one.width)
    widest = max(one.widest.width for one in run)
    long = sum(one.length for one in run)
    if widest <= present.width:
        yield stop(
            "spread.not_wider",
            "It would be {wide:size} wide, no wider than the bar, {present:section}.",
            hint="Taper or draw it out instead, or choose more bar.",
            wide=widest,
            present=present,
            field=field,
            source="geometry",
        )
    elif field != "where" and long < 0.98 * span.length:
        yield stop(
            "spread.not_enough_metal",
            "So wide and thick it comes to {long:length} only, less than the {run:length} of bar it takes.",
            hint="Make it narrower or thinner, or upset the end first.",
            long=long,
            run=span.length,
            field=field,
            source="geometry; 2 % from memory",
        )


def too_wide(width: float, thickness: float, bar_width: float) -> Iterator[Finding]:
    """Warn of an outline too wide for its thickness, or for the bar it is made of."""
    if width > WIDEST * thickness:
        yield caution(
            "spread.too_wide",
            "{width:size} is over twelve times the thickness, {thickness:size}: it chills and tears.",
            hint="Take short heats, or leave it thicker.",
            width=width,
            thickness=thickness,
            field="thickness",
            source="from memory",
        )
    if width > MOST_GROWTH * bar_width:
        yield caution(
            "spread.edges_crack",
            "{width:size} is more than four times the width of the bar, {bar:size}: the edges crack.",
            hint="Upset the end first, or take wider bar.",
            width=width,
            bar=bar_width,
            field="width",
            source="from memory",
        )
