"""Checks that several operations share, each yielding findings with codes of its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from calculators.sections import Section
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Branch, End, Feature
from procedures.engine.pieces.path import Plane
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH, close

from .curving import is_straight

HELD = 60.0  # mm of bar that tongs or a hand need outside the work: from memory
THIN = 2.0  # mm: from memory
WELD_THIN = 4.0  # mm: from memory
WELD_NEAR = 60.0  # mm from a weld, which burn or bend with it: from memory
LEAST_LAP = 1.5  # thicknesses of overlap in a weld: from memory
CLEAR = 1.5  # widths between the end of a cut and a shoulder or weld: from memory
STEP = 0.1  # of the area, from which a change of section is a shoulder: our judgement
LEAST_SAID = 0.05  # mm, below which a length is said as nothing
BY_HAND = 400.0  # mm: a bar longer than this is its own handle: common practice, no source


def curved_metal(branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop section work on bent, scrolled or twisted metal: its inside and outside differ in length."""
    if any(not one.is_straight for one in branch.segments_between(span.low, span.high)):
        bent = not is_straight(branch, span)
        yield stop(
            "shape.curved_metal",
            "Part of this run of {branch} is already {how}.",
            hint="Do this before the bending, or straighten first."
            if bent
            else "Do this before the twisting, or choose a run beside it.",
            branch=branch.said,
            how="bent" if bent else "twisted",
            field="where",
            source="geometry",
        )


def folded_metal(branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop section work on metal that lies loose: a fold not welded, whose layers slide, or a basket."""
    yield from caged_metal(branch, span)
    if any(one.layers > 1 for one in branch.segments_between(span.low, span.high)):
        yield stop(
            "shape.folded_metal",
            "This run of {branch} is folded and not welded.",
            hint="Weld the fold first.",
            branch=branch.said,
            field="where",
            source="geometry",
        )


def caged_metal(branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop section work on the rods of a basket, which are told as the spindle that they lie in."""
    for one in branch.features:
        half = one.length / 2 - TOUCH
        if one.kind == "basket" and one.at - half < span.high and one.at + half > span.low:
            yield stop(
                "shape.caged_metal",
                "This run of {branch} holds {what}: its rods are not worked together.",
                hint="Work the bar beside it, or the rods before.",
                branch=branch.said,
                what=one.said,
                field="where",
                source="geometry",
            )


def plain_bar(branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop section work on bent, twisted, folded, caged or hollow metal in the range, or on none at all."""
    yield from curved_metal(branch, span)
    yield from folded_metal(branch, span)
    yield from hollow_metal(branch, span, "where")
    yield from no_metal(branch, span)


def no_metal(branch: Branch, span: Span) -> Iterator[Finding]:
    """Stop work on a run that holds nothing, such as the very end of a true point."""
    if branch.volume_between(span.low, span.high) <= 0:
        yield stop(
            "shape.no_metal",
            "There is no metal in this run of {branch}.",
            hint="Choose a run that holds some.",
            branch=branch.said,
            field="where",
            source="geometry",
        )


def holes_worked(piece: Piece, spans: Iterable[Span]) -> Iterator[Finding]:
    """Warn of holes and the like in worked metal, which lose their shape, and of a texture hammered out."""
    for span in spans:
        branch = piece.branch(span.branch)
        for one in branch.features:
            if span.low < one.at < span.high:
                yield caution(
                    "shape.hole_worked",
                    "The run that is worked holds {what}: it will go out of shape{more}.",
                    hint="Make it afterwards, or choose a run beside it.",
                    what=one.said,
                    more=" and close" if one.is_hole else "",
                    field="where",
                    source="geometry",
                )
        if any(one.texture for one in branch.segments_between(span.low, span.high)):
            yield caution(
                "shape.texture_worked",
                "This run of {branch} is textured: working it hammers the pattern out.",
                hint="Put the texture in afterwards.",
                branch=branch.said,
                field="where",
                source="common practice, no source",
            )


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


def bent_metal(branch: Branch, span: Span, field: str) -> Iterator[Finding]:
    """Stop what needs a straight centreline on metal that is bent already; it may be twisted."""
    if not is_straight(branch, span):
        yield stop(
            "shape.already_bent",
            "Part of this run of {branch} is already bent.",
            hint="Choose another place, or straighten it first.",
            branch=branch.said,
            field=field,
            source="geometry",
        )


def hollow_metal(branch: Branch, span: Span, field: str) -> Iterator[Finding]:
    """Stop what needs solid bar on a tube."""
    if any(one.start.bore or one.end.bore for one in branch.segments_between(span.low, span.high)):
        yield stop(
            "shape.hollow",
            "{branch} is a tube here; this is reckoned for solid bar only.",
            hint="Choose a place where it is solid.",
            branch=branch.said,
            field=field,
            source="geometry",
        )


def no_such_bar(
    branch: Branch, span: Span, target: Section, field: str, *, pointed: bool = False
) -> Iterator[Finding]:
    """Stop work to a section that no run of bar can have, or to a tube where the bar is solid.

    `pointed` lets it be a point or an edge.
    """
    hollow = any(one.start.bore or one.end.bore for one in branch.segments_between(span.low, span.high))
    if target.area <= 0 and not pointed:
        yield stop(
            "shape.target_without_area",
            "{target:section} has no area: no run of bar comes out so.",
            hint="Give another section, or make a taper or a point.",
            target=target,
            field=field,
            source="geometry",
        )
    elif target.bore and not hollow:
        yield stop(
            "shape.target_hollow",
            "{branch} is solid here: no forging makes it {target:section}.",
            hint="Give a solid section.",
            branch=branch.said,
            target=target,
            field=field,
            source="geometry",
        )
    elif hollow and not target.bore:
        yield from hollow_metal(branch, span, field)


def end_taken(piece: Piece, name: str, end: End, field: str) -> Iterator[Finding]:
    """Stop what needs a free end where another branch hangs on it."""
    branch = piece.branch(name)
    others = [one.name for one in piece.children(name, end)]
    if end == "start" and branch.attached is not None and branch.is_held_at_start:
        others.append(branch.attached.parent)
    at = branch.length if end == "end" else 0.0
    others += [f"the {one.said}" for one in piece.joints if any(close(at, held) for held in one.on(name))]
    if others:
        yield stop(
            "shape.end_taken",
            "The {end} of {branch} is not free: {others} {are} there.",
            hint="Choose the other end, or another branch.",
            end=end,
            branch=branch.said,
            others=listed(others),
            are="is" if len(others) == 1 else "are",
            field=field,
            source="geometry",
        )


def closed_ring(piece: Piece, branch: Branch, field: str) -> Iterator[Finding]:
    """Stop what needs an end on a branch that is closed to a ring or a frame: it has none."""
    if piece.is_closed(branch.name):
        yield stop(
            "shape.closed_ring",
            "{branch} is closed: its end is joined to its start, and it has no end to work on.",
            hint="Do this before it is closed.",
            branch=branch.said,
            field=field,
            source="geometry",
        )


def in_the_way(
    piece: Piece, branch: Branch, span: Span, field: str, *, holes: Iterable[Feature], welds: bool = False
) -> Iterator[Finding]:
    """Stop a cut or a weld through a run that holds one of these holes, or a side branch, or a weld."""
    there = [(one.said, one.at) for one in holes]
    there += [
        (f"Branch {one.name}", one.attached.at)
        for one in piece.children(branch.name)
        if one.attached and not isinstance(one.attached.at, str)
    ]
    if welds:
        there += [(f"The {one.said}", at) for one in piece.joints for at in one.on(branch.name)]
    for what, at in there:
        if span.low + TOUCH < at < span.high - TOUCH:
            yield stop(
                "shape.in_the_way",
                "{what} lies in this run of {branch}, {at:length} from its start.",
                hint="Keep clear of it, or make it afterwards.",
                what=what,
                branch=branch.said,
                at=at,
                field=field,
                source="geometry",
            )


def name_taken(piece: Piece, names: Iterable[str], field: str) -> Iterator[Finding]:
    """Stop a step that would call something new by a name that a branch or group has."""
    for name in names:
        if piece.has_branch(name) or name in piece.groups:
            yield stop(
                "name.taken",
                "There is a branch or group called {name} already.",
                hint="Give another name.",
                name=name,
                field=field,
            )


def near_a_step(piece: Piece, branch: Branch, at: float, section: Section, field: str) -> Iterator[Finding]:
    """Warn of a cut that ends close to a shoulder or a weld, where it tears."""
    ends = [held for one in piece.joints for held in one.on(branch.name)]
    along = 0.0
    for first, second in pairwise(branch.segments):
        along += first.length
        if abs(first.end.area - second.start.area) > STEP * first.end.area:
            ends.append(along)
    near = min((abs(one - at) for one in ends), default=CLEAR * section.width)
    if near < CLEAR * section.width:
        yield caution(
            "shape.near_a_step",
            "A shoulder or a weld lies only {near:length} away: it may tear there.",
            hint="Keep {least:length} between them.",
            near=near,
            least=CLEAR * section.width,
            field=field,
            source="1.5 widths from memory",
        )


def pair_alike(piece: Piece, on: str, plane: Plane, mirrored: bool) -> Iterator[Finding]:
    """Point out a pair that is curved to the same side on edge, so that it comes out as no pair of hands."""
    if plane == "hard" and not mirrored and len(piece.members(on)) == 2:
        yield note(
            "group.not_mirrored",
            "Both of {group} go to the same side.",
            hint="Tick mirrored where they should be a left and a right.",
            group=on,
            field="mirrored",
            mend={"mirrored": True},
            source="common practice, no source",
        )
