"""The whole piece at full size, in plan and edge view: to lay the work on."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.drawing.lettering import fitted
from procedures.drawing.linework import centre_runs
from procedures.drawing.scene import scene
from procedures.drawing.views import EDGE, PLAN
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.pose import pose

from .pattern import SMALL, Item, Line, Pattern, Whose, box_of, headed

_CHORD = 0.02  # mm: how far the outline may miss the curve
_TITLES = {"plan": "seen from above", "edge": "seen from the front"}


def whole_views(piece: Piece, whose: Whose) -> Iterator[Pattern]:
    """Yield the piece as it lies in each of two views."""
    size = whose.units.length
    posed = pose(piece, chord=_CHORD)
    closed = frozenset(one.name for one in piece.branches if piece.is_closed(one.name))
    for view in (EDGE, PLAN):
        items: list[Item] = []
        for stroke in scene(posed, view, closed=closed).strokes:
            spots = tuple((x, y) for x, y in stroke.line)
            if len(spots) > 1 and stroke.kind != "hidden":
                items.append(Line("outline", spots))
        for branch in posed.branches:
            runs = centre_runs((one.stations for one in branch.segments), view)
            items += [Line("centre", tuple(one)) for one in runs if len(one) > 1]
        if not items:
            continue
        low, foot, high, top = box_of(spot for one in items for spot in one.spots)
        sizes = f"{size(high - low)} × {size(top - foot)} over all"
        said = f"{whose.name}: whole piece, {_TITLES[view.name]}"
        lead = f"{sizes[0].upper()}{sizes[1:]}. Lay the work on it to check it, once it is cold."
        shown = headed(items, said, [fitted(lead, SMALL, 165.0)])
        yield Pattern(f"whole-{view.name}", said, lead, shown, chosen=False)
