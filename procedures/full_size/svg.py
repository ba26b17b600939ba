"""Patterns as SVG: whole ones with true arcs for a plotter, clipped ones for a page, small ones."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

from shapely import LineString, Polygon, box, intersection

from procedures.drawing.lettering import safe

from .pattern import LAYERS, Arc, Box, Item, Layer, Line, Pattern, Spot, Words, box_of

FONT = "Barlow Condensed, Barlow Extended, Forgesite Signs, Arial Narrow, sans-serif"
_PENS: dict[Layer, str] = {
    "outline": 'stroke="#111" stroke-width="0.35"',
    "centre": 'stroke="#555" stroke-width="0.2" stroke-dasharray="7 1.2 1 1.2"',
    "marks": 'stroke="#111" stroke-width="0.3"',
    "text": 'stroke="#555" stroke-width="0.15"',
}
# A laser or plotter program tells layers apart by colour where it does not read their names.
_COLOURS: dict[Layer, str] = {
    "outline": "#000000",
    "centre": "#0000ff",
    "marks": "#ff0000",
    "text": "#008000",
}
_DASHES = ' stroke-dasharray="2 1.2"'
_PREVIEW = 0.25  # mm by which a line of a preview may be simpler
_MARGIN = 1.0  # mm round a whole pattern
Move = Callable[[Spot], Spot]


def number(value: float) -> str:
    """Return a coordinate to a thousandth of a millimetre, as short as it goes."""
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".")


def pattern_svg(pattern: Pattern, rights: str = "") -> str:
    """Return a pattern at full size: width and height in mm, a group a layer, arcs as arcs.

    `rights`, who made it and under which licence, goes with it as its description.
    """
    low, foot, high, top = pattern.box
    width, height = high - low + 2 * _MARGIN, top - foot + 2 * _MARGIN

    def move(spot: Spot) -> Spot:
        return spot[0] - low + _MARGIN, top - spot[1] + _MARGIN

    groups = []
    for layer in LAYERS:
        inside = "".join(_whole(one, move, _COLOURS[layer]) for one in pattern.items if one.layer == layer)
        pen = _PENS[layer].replace("#111", _COLOURS[layer]).replace("#555", _COLOURS[layer])
        groups.append(f'<g id="{layer}" fill="none" {pen}>{inside}</g>')
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}mm" height="{number(height)}mm" '
        f'viewBox="0 0 {number(width)} {number(height)}">'
        f"<title>{safe(pattern.title)}</title>{f'<desc>{safe(rights)}</desc>' if rights else ''}"
        f"{''.join(groups)}</svg>"
    )


def preview_svg(pattern: Pattern, label: str) -> str:
    """Return a small picture of a pattern without its words."""
    items = [one for one in pattern.items if one.layer != "text" and not isinstance(one, Words)]
    low, foot, high, top = box_of(spot for one in items for spot in one.spots)
    room = max(high - low, 2.6 * (top - foot), 1.0)
    pad = 0.03 * room
    width, height = high - low + 2 * pad, top - foot + 2 * pad
    body = []
    for one in items:
        if len(one.spots) < 2 or one.dashed:
            continue
        line = LineString(one.spots).simplify(min(_PREVIEW, room / 600))
        assert isinstance(line, LineString)
        spots = [(x - low + pad, top - y + pad) for x, y in _spots(line)]
        closed = isinstance(one, Line) and one.closed
        pen = 'stroke="#555"' if one.layer == "centre" else 'stroke="#111"'
        thick = 1.0 if one.layer == "centre" else 1.6
        body.append(
            f'<path d="{_data(spots, closed=closed)}" fill="none" {pen} stroke-width="{thick}" '
            'vector-effect="non-scaling-stroke"/>'
        )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{safe(label)}" '
        f'viewBox="0 0 {number(width)} {number(height)}">{"".join(body)}</svg>'
    )


def clipped_svg(pattern: Pattern, left: float, top: float, window: Box) -> str:
    """Return what of a pattern lies in the window of a page, its box's upper left corner at `left`, `top`."""
    low, _, _, high = pattern.box

    def move(spot: Spot) -> Spot:
        return left + spot[0] - low, top + high - spot[1]

    return items_svg(pattern.items, move, box(*window))


def items_svg(items: Iterable[Item], move: Move, clip: Polygon | None = None) -> str:
    """Return items moved to where they belong, arcs as lines true within 0.005 mm."""
    groups: dict[tuple[Layer, bool, bool], list[str]] = {}
    words = []
    for one in items:
        spots = [move(spot) for spot in one.spots]
        if isinstance(one, Words):
            if clip is None or all(_inside(spot, clip.buffer(0.01).bounds) for spot in spots):
                words.append(_words(one, move(one.at)))
            continue
        is_filled = isinstance(one, Line) and one.filled
        runs = _clipped(spots, one, clip)
        groups.setdefault((one.layer, one.dashed, is_filled), []).extend(runs)
    made = [
        f'<path d="{"".join(data)}" fill="{"#111" if is_filled else "none"}" {_pen(layer, dashed=dashed)}/>'
        for (layer, dashed, is_filled), data in groups.items()
        if data
    ]
    return "".join((*made, *words))


def _pen(layer: Layer, *, dashed: bool) -> str:
    pen = _PENS[layer]
    return pen if not dashed or "dasharray" in pen else pen + _DASHES


def _clipped(spots: Sequence[Spot], item: Line | Arc, clip: Polygon | None) -> list[str]:
    closed = isinstance(item, Line) and item.closed
    if clip is None or all(_inside(spot, clip.bounds) for spot in spots):
        return [_data(spots, closed=closed)]
    if len(spots) < 2:
        return []
    if isinstance(item, Line) and item.filled:
        shape = intersection(Polygon(spots), clip)
        if not isinstance(shape, Polygon) or shape.is_empty:
            return []
        return [_data(_spots(shape.exterior), closed=True)]
    line = [*spots, spots[0]] if closed else spots
    return [_data(one, closed=False) for one in _cut(line, clip)]


def _cut(line: Sequence[Spot], clip: Polygon) -> list[list[Spot]]:
    """Return the runs of a line inside a window; one that crosses itself stays in its own order."""
    runs: list[list[Spot]] = []
    for pair in pairwise(line):
        piece = intersection(LineString(pair), clip)
        if not isinstance(piece, LineString) or piece.is_empty:
            continue
        first, last = _spots(piece)
        if runs and runs[-1][-1] == first:
            runs[-1].append(last)
        else:
            runs.append([first, last])
    return runs


def _spots(line: LineString) -> list[Spot]:
    return [(float(one[0]), float(one[1])) for one in line.coords]


def _inside(spot: Spot, bounds: Box) -> bool:
    return bounds[0] <= spot[0] <= bounds[2] and bounds[1] <= spot[1] <= bounds[3]


def _data(spots: Sequence[Spot], *, closed: bool) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in spots) + ("Z" if closed else "")


def _words(one: Words, at: Spot, colour: str = "#111") -> str:
    x, y = number(at[0]), number(at[1])
    turned = f' transform="rotate({number(-one.turned)} {x} {y})"' if one.turned else ""
    weight = ' font-weight="600"' if one.strong else ""
    return (
        f'<text x="{x}" y="{y}" font-family="{FONT}" font-size="{number(one.size)}"'
        f' text-anchor="{one.anchor}"{weight} fill="{colour}" stroke="none"{turned}>{safe(one.words)}</text>'
    )


def _whole(item: Item, move: Move, colour: str) -> str:
    """Return one item of a whole pattern, an arc as an arc."""
    if isinstance(item, Words):
        return _words(item, move(item.at), colour)
    dashes = _DASHES if item.dashed else ""
    if isinstance(item, Line):
        fill = f' fill="{colour}"' if item.filled else ""
        return f'<path d="{_data([move(one) for one in item.spots], closed=item.closed)}"{fill}{dashes}/>'
    x, y = move(item.centre)
    radius = number(item.radius)
    if item.is_circle:
        return f'<circle cx="{number(x)}" cy="{number(y)}" r="{radius}"{dashes}/>'
    (x1, y1), (x2, y2) = move(item.at(item.start)), move(item.at(item.end))
    large = int(item.end - item.start > 180)
    ends = f"M{number(x1)} {number(y1)}A{radius} {radius} 0 {large} 0 {number(x2)} {number(y2)}"
    return f'<path d="{ends}"{dashes}/>'
