"""A branch laid out straight as it is seen from above: where its holes are, and what was spread wide."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calculators.wording import UnitSystem
from procedures.drawing.lettering import name
from procedures.engine.pieces.branch import Branch, Feature
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.segment import Segment

from .laid_bar import LaidBar, Place
from .pattern import Arc, Item, Line, Pattern, Whose, cross

_WIDER = 1.1  # times its bar: what was spread further has an outline worth a template
_LEAST_SPREAD = 1.0  # mm: what grew less is no shape
_SIDE_STEPS = 48  # of the side of a leaf
_GAP = 1.0  # mm between two wide runs that are one shape


def own_branches(piece: Piece, part: str) -> Iterator[Branch]:
    """Yield the branches whose metal came from a part's own bar."""
    for branch in piece.branches:
        if any(cut.bar == part for one in branch.segments for cut in one.origin):
            yield branch


# -- holes -------------------------------------------------------------------------------------------


def hole_layouts(piece: Piece, whose: Whose) -> Iterator[Pattern]:
    """Yield a layout of the holes of each branch and face that has any."""
    number = 0
    for branch in own_branches(piece, whose.part):
        for face in ("flat", "edge"):
            holes = sorted((one for one in branch.features if one.is_hole and one.face == face), key=_at)
            if holes:
                number += 1
                yield _hole_layout(branch, face, holes, number, whose)


def _at(feature: Feature) -> float:
    return feature.at


def _hole_layout(branch: Branch, face: str, holes: list[Feature], number: int, whose: Whose) -> Pattern:
    units = whose.units
    said = name(branch.name, 40)
    places = [_hole_place(one, branch, units) for one in holes]
    far = Place(branch.length, "", f"{units.length(branch.length)}: end")
    where = "from above" if face == "flat" else "on edge"
    lead = f"On {said}, seen {where}: {len(holes)} hole{'s' if len(holes) > 1 else ''}."
    return LaidBar(
        key=f"holes-{number}",
        title=f"{whose.name}: holes",
        lead=lead,
        edges=tuple(_edges(branch, 0.0, branch.length, face)),
        places=(*places, far),
        units=units,
        shapes=tuple((one.at, tuple(_hole_shape(one))) for one in holes),
        notes=(
            f"Laid out straight, seen {where}, as it is at this step; the bulge at each hole is left out.",
        ),
        datum="start",
    ).pattern()


def _hole_place(hole: Feature, branch: Branch, units: UnitSystem) -> Place:
    sizes = {
        "round": f"ø {units.size(hole.length)}",
        "square": f"{units.size(hole.length)} square",
    }
    size = sizes.get(hole.shape, f"{units.size_short(hole.length)} × {units.size(hole.width)} {hole.shape}")
    label = f"{name(hole.name, 20)}: {size}" if hole.name else size
    under = f"{units.length(hole.at)} ({units.length(branch.length - hole.at)} from the end)"
    return Place(hole.at, label, under, strong=True)


def _hole_shape(hole: Feature) -> Iterator[Item]:
    """Yield the outline of a hole about its centre, and the centre."""
    half, wide = hole.length / 2, hole.width / 2
    x = hole.at
    if hole.shape == "round":
        yield Arc("outline", (x, 0.0), half)
    elif hole.shape == "slot" and abs(half - wide) > 1e-9:
        run, end = abs(half - wide), min(half, wide)
        turn = 0.0 if half > wide else 90.0
        ends = [(x + side * run, 0.0) if half > wide else (x, side * run) for side in (1.0, -1.0)]
        yield Arc("outline", ends[0], end, turn - 90, turn + 90)
        yield Arc("outline", ends[1], end, turn + 90, turn + 270)
        for side in (1.0, -1.0):
            spots = [(x + a * run, side * wide) for a in (-1.0, 1.0)]
            if half <= wide:
                spots = [(x + side * half, a * run) for a in (-1.0, 1.0)]
            yield Line("outline", tuple(spots))
    elif hole.shape == "slot":
        yield Arc("outline", (x, 0.0), half)
    else:
        yield Line(
            "outline", ((x - half, -wide), (x + half, -wide), (x + half, wide), (x - half, wide)), True
        )
    yield from cross((x, 0.0), 2.0 + max(half, wide), "centre")


# -- what was spread ---------------------------------------------------------------------------------


def spread_shapes(piece: Piece, whose: Whose) -> Iterator[Pattern]:
    """Yield the outline of each run that is wider than the bar it was spread from."""
    number = 0
    for branch in own_branches(piece, whose.part):
        for low, high in _wide_runs(branch, piece.stock.section.width):
            number += 1
            yield _spread_shape(branch, low, high, number, whose)


def _wide_runs(branch: Branch, stock: float) -> Iterator[tuple[float, float]]:
    begin = end = None
    at = 0.0
    for one in branch.segments:
        beyond = at + one.length
        widest = max(one.start.width, one.widest.width, one.end.width)
        changes = bool(one.bulge) or abs(one.start.width - one.end.width) > _LEAST_SPREAD
        grown = (
            widest > max(_WIDER * min(one.start.width, one.end.width), _LEAST_SPREAD) if changes else False
        )
        if grown and (one.bulge > _LEAST_SPREAD or widest > _WIDER * stock):
            if begin is not None and end is not None and at - end > _GAP:
                yield begin, end
                begin = None
            begin = at if begin is None else begin
            end = beyond
        at = beyond
    if begin is not None and end is not None:
        yield begin, end


def _spread_shape(branch: Branch, low: float, high: float, number: int, whose: Whose) -> Pattern:
    units = whose.units
    edges = [(x - low, a, b) for x, a, b in _edges(branch, low, high, "flat")]
    widest = max(edges, key=lambda one: one[2] - one[1])
    wide = widest[2] - widest[1]
    places = [
        Place(edges[0][0], "begins", ""),
        Place(widest[0], f"{units.size(wide)} wide", units.length(widest[0])),
    ]
    places.append(Place(high - low, "ends", units.length(high - low)))
    said = name(branch.name, 40)
    ends = [units.length(at) for at in (low, high)]
    lead = f"On {said}, {ends[0]} to {ends[1]} from its start; widest {units.size(wide)}."
    return LaidBar(
        key=f"leaf-{number}",
        title=f"{whose.name}: spread shape {number}",
        lead=lead,
        edges=tuple(edges),
        places=tuple(places),
        units=units,
        notes=(lead, "Laid out flat, seen from above, before any bending."),
        datum="begins here",
    ).pattern()


def _edges(branch: Branch, low: float, high: float, face: str) -> Iterator[tuple[float, float, float]]:
    """Yield (mm along, lower and upper edge) of a branch laid out straight, true within 0.02 mm."""
    at = low
    for one in branch.segments_between(low, high):
        for inside in _stops(one):
            section = one.section_at(inside)
            half = (section.width if face == "flat" else section.thickness) / 2
            share = inside / one.length if one.length > 0 else 0.0
            side = 0 if face == "flat" else 1
            middle = one.aside[side] + share * one.lean[side]
            yield at + inside, middle - half, middle + half
        at += one.length


def _stops(one: Segment) -> list[float]:
    """Return where along a segment its sides are to be known: close together where they are steep."""
    if not one.bulge:
        return [0.0, one.length]
    steps = [
        one.length * (1 - math.cos(math.pi * index / _SIDE_STEPS)) / 2 for index in range(_SIDE_STEPS + 1)
    ]
    return sorted({*steps, one.widest_at})
