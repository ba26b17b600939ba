"""Draws "Forgesite Signs", the few characters neither text family has: □ ⌀ → ← ↑ ↓ ✓ ≤ ≥ ≈
and the narrow space.

They are cut to stand beside Barlow Condensed (1000 units to the em, capitals 700 high). Run it with
the site's own interpreter after a change (fontTools comes with the print engine):

    .venv/bin/python .fonts/signs.py
"""

from math import cos, pi, sin
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen

FOLDER = Path(__file__).resolve().parent.parent / "static" / "fonts" / "forgesite-signs"
WEIGHTS = {400: 68, 600: 112}  # weight: stroke, in units, as Barlow Condensed's own stems
CAPITAL = 700
SIDE_BEARING = 50
EPOCH = 2082844800  # seconds from 1904, where font dates begin, to 1970


def stroke(x0, y0, x1, y1, width):
    """Return the outline of a straight stroke with square ends."""
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    dx, dy = (y1 - y0) / length * width / 2, -(x1 - x0) / length * width / 2
    return [(x0 - dx, y0 - dy), (x0 + dx, y0 + dy), (x1 + dx, y1 + dy), (x1 - dx, y1 - dy)]


def ring(x, y, radius, width):
    """Return a circle drawn with a stroke, as an outer and an inner outline of 48 sides."""
    turns = [2 * pi * i / 48 for i in range(48)]
    outer = [(x + radius * cos(t), y + radius * sin(t)) for t in turns]
    inner = [(x + (radius - width) * cos(-t), y + (radius - width) * sin(-t)) for t in turns]
    return [outer, inner]


def box(x0, y0, x1, y1):
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def turned(outlines, quarter, x=350, y=350):
    """Return outlines turned by quarters about a point."""
    c, s = [(1, 0), (0, 1), (-1, 0), (0, -1)][quarter % 4]
    return [[(x + (a - x) * c - (b - y) * s, y + (a - x) * s + (b - y) * c) for a, b in o] for o in outlines]


def arrow(width):
    head, mid = 190, 350
    return [
        stroke(40, mid, 640, mid, width),
        stroke(660 - head, mid + head, 660, mid, width),
        stroke(660 - head, mid - head, 660, mid, width),
    ]


def signs(width):
    """Return {character: (advance, outlines)} for one stroke width."""
    square = [box(40, 20, 700, 680), box(40 + width, 20 + width, 700 - width, 680 - width)[::-1]]
    right = arrow(width)
    less = [
        stroke(430, 640, 80, 400, width),
        stroke(80, 400, 430, 160, width),
        stroke(60, 40, 450, 40, width),
    ]
    return {
        "□": (760, square),
        "⌀": (700, [*ring(350, 350, 290, width), stroke(80, 40, 620, 660, width)]),
        "→": (700, right),
        "↑": (700, turned(right, 1)),
        "←": (700, turned(right, 2)),
        "↓": (700, turned(right, 3)),
        "✓": (640, [stroke(60, 330, 250, 90, width), stroke(220, 100, 590, 620, width)]),
        "≤": (510, less),
        "≥": (510, [[(510 - x, y) for x, y in outline][::-1] for outline in less]),
        "≈": (560, [wave(430, width), wave(240, width)]),
        # Spaces beside a sign are set in its own font; the narrow one stands between a number and its unit.
        " ": (200, []),
        "\N{NO-BREAK SPACE}": (200, []),
        "\N{NARROW NO-BREAK SPACE}": (140, []),
    }


def wave(y, width):
    """Return one line of the sign for about."""
    xs = [60 + 440 * i / 24 for i in range(25)]
    top = [(x, y + 60 * sin((x - 60) / 440 * 2 * pi) + width / 2) for x in xs]
    return top[::-1] + [(x, ty - width) for x, ty in top]


def charstring(advance, outlines):
    pen = T2CharStringPen(advance, None)
    for first, *rest in outlines:
        pen.moveTo(first)
        for point in rest:
            pen.lineTo(point)
        pen.closePath()
    return pen.getCharString()


def build(weight, width):
    """Return the font of one weight."""
    drawn = signs(width)
    names = {character: f"uni{ord(character):04X}" for character in drawn}
    builder = FontBuilder(1000, isTTF=False)
    builder.setupGlyphOrder([".notdef", *names.values()])
    builder.setupCharacterMap({ord(character): name for character, name in names.items()})
    glyphs = {names[c]: charstring(advance, outlines) for c, (advance, outlines) in drawn.items()}
    style = "SemiBold" if weight == 600 else "Regular"
    builder.setupCFF(f"ForgesiteSigns-{style}", {}, {".notdef": charstring(500, []), **glyphs}, {})
    advances = {names[c]: (advance, SIDE_BEARING) for c, (advance, _) in drawn.items()}
    builder.setupHorizontalMetrics({".notdef": (500, 0), **advances})
    builder.setupHorizontalHeader(ascent=1000, descent=-200)
    builder.setupNameTable({"familyName": "Forgesite Signs", "styleName": style})
    builder.setupOS2(
        usWeightClass=weight, sTypoAscender=1000, sTypoDescender=-200, usWinAscent=1000, usWinDescent=200
    )
    builder.setupPost()
    # The same file every time it is built.
    builder.font["head"].created = builder.font["head"].modified = EPOCH
    builder.font.recalcTimestamp = False
    return builder.font


if __name__ == "__main__":
    FOLDER.mkdir(parents=True, exist_ok=True)
    for weight, width in WEIGHTS.items():
        font = build(weight, width)
        font.flavor = "woff2"
        font.save(FOLDER / f"{weight}.woff2")
