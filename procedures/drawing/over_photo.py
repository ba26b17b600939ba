"""Arrows, circles, dimensions and labels over a photo, as SVG in the photo's own proportions.

The one drawing for screen, telephone and paper: it is laid over the photo's box and scales with it, so
nothing moves or changes its number when the photo is shown at another size. Lines are white in a black casing
and words black on a white plate, which is legible on any photo and in grey.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calculators.wording import UnitSystem
from procedures.engine.annotation import KINDS, Annotation

from .lettering import name, safe, spaced, width_of
from .over_photo_room import Box, Spot, placed
from .sheet import FONT
from .svg import number

LONGER = 1000.0  # units of the photo's longer side
LETTER = 42.0
LINE_HEIGHT = 46.0
PAD = 12.0
CORE, CASING = 6.0, 14.0  # widths of the line and of what is seen of it on a photo of its own colour
HEAD = 44.0
TICK = 24.0  # half of the stroke across the end of a dimension
WIDEST = 0.46  # of the photo's width: a longer plate hides too much of it
MOST_LINES = 2


@dataclass(frozen=True)
class Key:
    """Words too long to stand on the photo, by the number that stands there instead."""

    number: int
    words: str


@dataclass(frozen=True)
class OverPhoto:
    """The marks on a photo: drawn, the words that belong under it, and all of it said for who cannot see."""

    svg: str
    keys: tuple[Key, ...]
    said: str


@dataclass(frozen=True)
class _Mark:
    """A mark in units of the drawing, with the words of its plate, if it has any."""

    number: int
    kind: str
    spots: tuple[Spot, ...]
    lines: tuple[str, ...]
    keyed: bool

    @property
    def plate(self) -> tuple[float, float]:
        """Half the width and half the height of its plate."""
        wide = max(width_of(one, LETTER) for one in self.lines)
        return max(wide, LETTER * 0.4) / 2 + PAD, len(self.lines) * LINE_HEIGHT / 2 + PAD / 3


def over_photo(
    annotations: Sequence[Annotation], width: float, height: float, units: UnitSystem
) -> OverPhoto:
    """Return the marks on a photo of this width and height (in any unit), in the reader's units."""
    if not annotations:
        return OverPhoto("", (), "")
    scale = LONGER / max(width, height)
    size = (width * scale, height * scale)
    marks = [_mark(index, one, size, units) for index, one in enumerate(annotations, start=1)]
    keys = tuple(Key(one.number, words_on(annotations[one.number - 1], units)) for one in marks if one.keyed)
    lines = "".join(f"<g>{_lines(one)}</g>" for one in marks)
    lettering = f'font-family="{FONT}" font-size="{number(LETTER)}" font-weight="600"'
    body = f"{lines}<g {lettering}>{_plates(marks, size)}</g>"
    box = f"0 0 {number(size[0])} {number(size[1])}"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="over-photo" viewBox="{box}" aria-hidden="true"'
        f' focusable="false">{body}</svg>'
    )
    return OverPhoto(svg, keys, said_of(annotations, units))


def words_on(annotation: Annotation, units: UnitSystem) -> str:
    """Return the words of a mark on one line: "45 mm", "shoulder 45 mm"; "" where it has none."""
    length = units.length(annotation.length) if annotation.length is not None else ""
    return " ".join(one for one in (name(annotation.text, 100), length) if one)


def said_of(annotations: Sequence[Annotation], units: UnitSystem) -> str:
    """Return the marks as a sentence: "Marked on it: 1, arrow at the upper left: hold here."."""
    said = []
    for index, one in enumerate(annotations, start=1):
        words = words_on(one, units)
        said.append(f"{index}, {KINDS[one.kind].lower()} {_where(one)}" + (f": {words}" if words else ""))
    return f"Marked on it: {'; '.join(said)}." if said else ""


def _where(annotation: Annotation) -> str:
    """Return in which ninth of the photo a mark is: the tip of an arrow, the middle of the others."""
    points = annotation.points[-1:] if annotation.kind == "arrow" else annotation.points
    across, down = (sum(values) / len(points) for values in zip(*points, strict=True))
    column = ("left", "", "right")[min(int(across * 3), 2)]
    row = ("upper", "", "lower")[min(int(down * 3), 2)]
    if not column and not row:
        return "in the middle"
    if not row:
        return f"at the {column}"
    return f"at the {row} {column}" if column else f"at the {row} middle"


# -- laying out --------------------------------------------------------------------------------------


def _mark(index: int, annotation: Annotation, size: Spot, units: UnitSystem) -> _Mark:
    spots = tuple((x * size[0], y * size[1]) for x, y in annotation.points)
    words = spaced(words_on(annotation, units))
    lines = _wrapped(words, size[0] * WIDEST)
    keyed = bool(words) and not lines
    return _Mark(index, annotation.kind, spots, (str(index),) if keyed else lines, keyed)


def _wrapped(words: str, room: float) -> tuple[str, ...]:
    """Return words in lines that fit the room; nothing where they do not."""
    lines: list[str] = []
    for word in words.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, LETTER) <= room:
            lines[-1] = longer
        elif word:
            lines.append(word)
    fits = len(lines) <= MOST_LINES and all(width_of(one, LETTER) <= room for one in lines)
    return tuple(lines) if fits else ()


def _plates(marks: Sequence[_Mark], size: Spot) -> str:
    """Return the plates with their words, each at the best of the places its kind allows."""
    lettered = [one for one in marks if one.lines]
    # Labels stand where they were put; the others make room for them.
    order = sorted(lettered, key=lambda one: ("label", "arrow", "dimension", "circle").index(one.kind))
    taken = [Box(x, y, HEAD / 2, HEAD / 2) for one in marks for x, y in _pointed(one)]
    found = {}
    for one in order:
        found[one.number] = placed([Box(*spot, *one.plate) for spot in _places(one)], taken, size)
        taken.append(found[one.number])
    return "".join(_plate(one, found[one.number]) for one in lettered)


def _pointed(mark: _Mark) -> tuple[Spot, ...]:
    """Return what a mark points at, which no plate should hide."""
    if mark.kind == "arrow":
        return mark.spots[1:]
    return mark.spots if mark.kind == "dimension" else ()


def _places(mark: _Mark) -> Iterator[Spot]:
    """Yield where the middle of a plate may be, the best first."""
    wide, high = mark.plate
    first, last = mark.spots[0], mark.spots[-1]
    if mark.kind == "label":
        yield first
        return
    if mark.kind == "circle":
        middle, across, down = _ellipse(mark)
        down, across = down + CASING + high, across + CASING + wide
        yield from ((middle[0], middle[1] + by) for by in (down, -down))
        yield from ((middle[0] + by, middle[1]) for by in (across, -across))
        yield middle
        return
    x, y, length = _direction(first, last)
    reach = min(wide / abs(x) if x else math.inf, high / abs(y) if y else math.inf)
    if mark.kind == "arrow":
        yield first[0] - x * reach, first[1] - y * reach
        sides = [(a * wide, b * high) for a in (-1, 0, 1) for b in (-1, 0, 1) if a or b]
        behind = [one for one in sides if one[0] * x + one[1] * y < 0]
        yield from ((first[0] + across, first[1] + down) for across, down in behind)
        return
    middle = (first[0] + last[0]) / 2, (first[1] + last[1]) / 2
    if length > 2 * (reach + HEAD):
        yield middle
    aside = abs(y) * wide + abs(x) * high + TICK
    yield from ((middle[0] + y * by, middle[1] - x * by) for by in (aside, -aside))


def _direction(first: Spot, last: Spot) -> tuple[float, float, float]:
    """Return the unit vector from one spot to another, and how far they are apart."""
    x, y = last[0] - first[0], last[1] - first[1]
    length = math.hypot(x, y)
    return x / length, y / length, length


def _ellipse(mark: _Mark) -> tuple[Spot, float, float]:
    (left, top), (right, bottom) = mark.spots
    return ((left + right) / 2, (top + bottom) / 2), abs(right - left) / 2, abs(bottom - top) / 2


# -- drawing -----------------------------------------------------------------------------------------


def _lines(mark: _Mark) -> str:
    """Return the lines of a mark: first the casing, then the line in it."""
    if mark.kind == "label":
        return ""
    if mark.kind == "circle":
        (x, y), across, down = _ellipse(mark)
        shape = f'<ellipse cx="{number(x)}" cy="{number(y)}" rx="{number(across)}" ry="{number(down)}"'
        return f'<g fill="none">{shape}{_stroke("#000", CASING)}/>{shape}{_stroke("#fff", CORE)}/></g>'
    first, last = mark.spots
    x, y, length = _direction(first, last)
    head = min(HEAD, length / (3 if mark.kind == "dimension" else 1.5))
    heads = _head(last, (-x, -y), head)
    start, end = first, (last[0] - x * head, last[1] - y * head)
    shaft = ""
    if mark.kind == "dimension":
        heads += _head(first, (x, y), head)
        start = (first[0] + x * head, first[1] + y * head)
        shaft = "".join(
            _line((one[0] - y * TICK, one[1] + x * TICK), (one[0] + y * TICK, one[1] - x * TICK))
            for one in (first, last)
        )
    shaft += _line(start, end)
    return (
        f'<path d="{shaft}{heads}" fill="none"{_stroke("#000", CASING)}/>'
        f'<path d="{shaft}" fill="none"{_stroke("#fff", CORE)}/><path d="{heads}" fill="#fff"/>'
    )


def _stroke(shade: str, width: float) -> str:
    return f' stroke="{shade}" stroke-width="{number(width)}" stroke-linecap="round" stroke-linejoin="round"'


def _line(start: Spot, end: Spot) -> str:
    return f"M{_at(start)}L{_at(end)}"


def _head(tip: Spot, back: Spot, length: float) -> str:
    half = length * 0.36
    x, y = tip[0] + back[0] * length, tip[1] + back[1] * length
    sides = (x - back[1] * half, y + back[0] * half), (x + back[1] * half, y - back[0] * half)
    return f"M{_at(tip)}L{_at(sides[0])}L{_at(sides[1])}z"


def _at(spot: Spot) -> str:
    return f"{number(spot[0])} {number(spot[1])}"


def _plate(mark: _Mark, box: Box) -> str:
    """Return the words on their plate; a number that stands for words under the photo is white on black."""
    ground, ink = ("#000", "#fff") if mark.keyed else ("#fff", "#000")
    rect = (
        f'<rect x="{number(box.left)}" y="{number(box.top)}" width="{number(2 * box.wide)}"'
        f' height="{number(2 * box.high)}" rx="4" fill="{ground}" stroke="{ink}" stroke-width="3"/>'
    )
    base = box.top + PAD / 3 + LINE_HEIGHT * 0.78
    lines = "".join(
        f'<text x="{number(box.x)}" y="{number(base + index * LINE_HEIGHT)}" fill="{ink}"'
        f' text-anchor="middle">{safe(line)}</text>'
        for index, line in enumerate(mark.lines)
    )
    return rect + lines
