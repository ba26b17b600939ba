"""Surface recession: what is left of a section when scale takes a depth off all round.

An inner parallel body where that has a closed form, and the nearest section with the same loss of area where
not.
"""

from __future__ import annotations

from math import pi, sqrt

from calculators.generators import (
    BORE,
    DIAMOND,
    DISC,
    HALF_DISC,
    HEXAGON,
    NOTHING,
    THICKNESS,
    THICKNESSES,
    TRIANGLE,
    WIDTH,
    WIDTHS,
    Weights,
    along,
)

_HALF_ROUND_RATE = 2 + 4 / pi  # mm off the width per mm of depth, so that the area lost is depth × perimeter
_TRIANGLE_RATE = 2 * sqrt(3)  # mm off the side: the inside circle's radius is side / (2√3)
_CHAMFER_RATE = 2 - sqrt(2)  # mm off the chamfer: its slanting face moves in as fast as the flat ones


def receded(weights: Weights, depth: float) -> Weights:
    """Return the weights left when the surface has gone in by a depth [mm]. Never below nothing."""
    g = list(weights)
    if g[BORE] > 0 and depth >= g[DISC] - g[BORE]:
        return NOTHING  # the wall of the tube is gone
    taken = min(g[DISC], depth)
    g[DISC] -= taken  # exact for any sum with a disc in it
    depth -= taken
    if depth > 0:
        _recede_rest(g, depth)
    if max(g) <= 0:
        return NOTHING
    return (g[0], g[1], g[2], g[3], g[4], g[5], g[6], g[7])


def _recede_rest(g: list[float], depth: float) -> None:
    used = {i for i in (WIDTH, THICKNESS, DIAMOND, HEXAGON, HALF_DISC, TRIANGLE) if g[i] > 0}
    if used <= {WIDTH, THICKNESS, DIAMOND}:
        _recede_box(g, depth)
    elif used == {HEXAGON}:
        g[HEXAGON] = max(g[HEXAGON] - 2 * depth, 0.0)
    elif used == {TRIANGLE}:
        g[TRIANGLE] = max(g[TRIANGLE] - _TRIANGLE_RATE * depth, 0.0)
    elif used == {HALF_DISC}:
        g[HALF_DISC] = max(g[HALF_DISC] - _HALF_ROUND_RATE * depth, 0.0)
    else:
        _recede_blend(g, depth)


def _recede_box(g: list[float], depth: float) -> None:
    """Take 2·depth off the width and the thickness; the chamfer shrinks with them until it is gone."""
    chamfer = max(g[DIAMOND] - _CHAMFER_RATE * depth, 0.0)
    gained = 2 * (g[DIAMOND] - chamfer)
    g[DIAMOND] = chamfer
    for edge in (WIDTH, THICKNESS):
        g[edge] += gained - 2 * depth
    short = -min(g[WIDTH], g[THICKNESS], 0.0)
    if short:
        # A chamfered side has come to its corner: the diamond gives way for the rest, so the thickness stays
        # right.
        g[DIAMOND] = max(g[DIAMOND] - short / 2, 0.0)
        g[WIDTH], g[THICKNESS] = max(g[WIDTH], 0.0), max(g[THICKNESS], 0.0)


def _recede_blend(g: list[float], depth: float) -> None:
    """Shrink a blend's shapes in proportion to its thickness; plain edges make up the rest of the 2·depth."""
    width, thickness = _across(g, WIDTHS), _across(g, THICKNESSES)
    left = max(1 - 2 * depth / thickness, 0.0) if thickness > 0 else 0.0
    for shape in (DIAMOND, HEXAGON, HALF_DISC, TRIANGLE):
        g[shape] *= left
    others = g[:]
    others[WIDTH] = others[THICKNESS] = 0.0
    if g[WIDTH] > 0:
        g[WIDTH] = min(max(width - 2 * depth - _across(others, WIDTHS), 0.0), g[WIDTH])
    if g[THICKNESS] > 0:
        g[THICKNESS] = min(max(thickness - 2 * depth - _across(others, THICKNESSES), 0.0), g[THICKNESS])


def _across(g: list[float], units: Weights) -> float:
    return along((g[0], g[1], g[2], g[3], g[4], g[5], g[6], g[7]), units)
