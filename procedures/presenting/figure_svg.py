"""A formula's figure as SVG: strokes to scale, sizes beside them, in the reader's units."""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from calculators.figure import Figure, Note, Size, Spot, Stroke
from calculators.wording import Sentence, UnitSystem

WIDE, HIGH = 380.0, 240.0  # px, the room of the metal; sizes find theirs in the margins
_MARGIN = 34.0
_LETTER = 17.0
_ARROW = 7.0
_FONT = "Barlow Condensed, Arial Narrow, sans-serif"
_LOOKS = {  # the shades of the drawings, which the pages' style re-inks by day and night
    "metal": 'fill="#dcdcdc" stroke="#111" stroke-width="2"',
    "hole": 'fill="#fff" stroke="#111" stroke-width="2"',
    "outline": 'fill="none" stroke="#111" stroke-width="2.5"',
    "thin": 'fill="none" stroke="#555" stroke-width="1"',
    "dashed": 'fill="none" stroke="#555" stroke-width="1.2" stroke-dasharray="6 4"',
}


def figure_svg(figure: Figure, units: UnitSystem) -> SafeString:
    """Return a figure as an SVG element with its text alternative."""
    return _Drawing(figure, units).svg()


class _Drawing:
    def __init__(self, figure: Figure, units: UnitSystem) -> None:
        self.figure, self.units = figure, units
        spots = list(figure.spots())
        self.left, self.top = min(x for x, _ in spots), max(y for _, y in spots)
        long = max(max(x for x, _ in spots) - self.left, 1e-9)
        high = max(self.top - min(y for _, y in spots), 1e-9)
        self.scale = min(WIDE / long, HIGH / high)
        self.longest = max(long, high) * self.scale
        self.boxes: list[Spot] = []  # corners of all that is drawn, to size the sheet by

    def at(self, spot: Spot) -> Spot:
        return (spot[0] - self.left) * self.scale, (self.top - spot[1]) * self.scale

    def svg(self) -> SafeString:
        body = "".join([*map(self.stroke, self.figure.strokes), *map(self.size, self.figure.sizes)])
        body += "".join(map(self.note, self.figure.notes))
        xs, ys = [x for x, _ in self.boxes], [y for _, y in self.boxes]
        left, top = min(xs) - 4, min(ys) - 4
        wide, high = max(xs) + 4 - left, max(ys) + 4 - top
        return mark_safe(  # noqa: S308 (words are escaped, the rest are numbers)
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(self.figure.told)}"'
            f' width="{wide:.0f}" height="{high:.0f}" viewBox="{left:.1f} {top:.1f} {wide:.1f} {high:.1f}"'
            f' font-family="{_FONT}" font-size="{_LETTER:g}">{body}</svg>'
        )

    def stroke(self, one: Stroke) -> str:
        spots = [self.at(spot) for spot in one.spots]
        self.boxes += spots
        way = _way(spots) + ("Z" if one.closed else "")
        return f'<path d="{way}" {_LOOKS[one.kind]} stroke-linejoin="round"/>'

    def size(self, one: Size) -> str:
        (x1, y1), (x2, y2) = self.at(one.first), self.at(one.last)
        long = hypot(x2 - x1, y2 - y1) or 1.0
        across, along = ((y2 - y1) / long, -(x2 - x1) / long), ((x2 - x1) / long, (y2 - y1) / long)
        off = one.away * self.longest
        if off:
            # A size beside the metal keeps clear of its outline and of the words of the next.
            off = (1 if off > 0 else -1) * max(abs(off), 22.0)
        a = (x1 + off * across[0], y1 + off * across[1])
        b = (x2 + off * across[0], y2 + off * across[1])
        lines = [_way([a, b])]
        if off:
            lines += [_way([(x1, y1), a]), _way([(x2, y2), b])]
        room = long > 3 * _ARROW
        heads = [_head(a, along, room), _head(b, (-along[0], -along[1]), room)]
        words = self.words(one.words)
        upright = abs(along[1]) > 0.7
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        if upright:
            x += 6 if across[0] * off >= 0 else -6
        else:
            y += -5 if across[1] * off <= 0 else _LETTER
        anchor = "middle" if not upright else "start" if across[0] * off >= 0 else "end"
        self.boxes += [a, b]
        return (
            f'<path d="{"".join(lines)}" fill="none" stroke="#555" stroke-width="1"/>'
            f'<path d="{"".join(heads)}" fill="#111"/>'
            + self.text(words, (x, y + (5 if upright else 0)), anchor)
        )

    def note(self, one: Note) -> str:
        return self.text(self.words(one.words), self.at(one.at), "middle")

    def words(self, words: Sentence | str) -> str:
        return words.text(self.units) if isinstance(words, Sentence) else words

    def text(self, words: str, at: Spot, anchor: str) -> str:
        wide = 0.5 * _LETTER * len(words)
        start = at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
        self.boxes += [(start, at[1] - _LETTER), (start + wide, at[1] + 5)]
        return (
            f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" text-anchor="{anchor}" fill="#111">{escape(words)}</text>'
        )


def _way(spots: Iterable[Spot]) -> str:
    return "".join(f"{'L' if place else 'M'}{x:.1f} {y:.1f}" for place, (x, y) in enumerate(spots))


def _head(tip: Spot, inwards: Spot, room: bool) -> str:
    """Return an arrowhead at a tip, from inside where there is room for two and from outside where not."""
    dx, dy = inwards if room else (-inwards[0], -inwards[1])
    back = (tip[0] + _ARROW * dx, tip[1] + _ARROW * dy)
    half = _ARROW * 0.28
    return (
        _way([tip, (back[0] - half * dy, back[1] + half * dx), (back[0] + half * dy, back[1] - half * dx)])
        + "Z"
    )
