"""The sheet under the pencil: lines, arrowheads and words by kind, and the SVG that comes of them.

Every kind has its own class and carries its own attributes: the print engine reads no page CSS inside SVG.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from . import svg
from .lettering import safe, width_of
from .room import Box, Room
from .sheet import CAP, FONT, GHOST, INK, QUIET, TONE, Sheet
from .views import Line, Spot

Kind = Literal["text", "strong", "name", "quiet"]  # plain, what changed, somebody's name, by the way
Anchor = Literal["start", "middle", "end"]
_DESCENT = 0.2  # of the letter size, below the line of writing
_ACCENT = 0.3  # of the letter size, over the capitals
_HEAVY_KINDS = ("strong", "name")
_ROUGH = 3  # times
_SIGN = 0.52  # side of the drawn □, of the letter size


@dataclass(frozen=True)
class Words:
    """A line of lettering, anchored `at` a spot on its line of writing and turned by `angle` about it."""

    text: str
    at: Spot
    size: float
    anchor: Anchor = "middle"
    angle: float = 0.0
    kind: Kind = "text"

    @cached_property
    def width(self) -> float:
        """How wide it comes out."""
        return width_of(self.text, self.size)

    @cached_property
    def box(self) -> Box:
        """The box it takes up, turned."""
        left = self.at[0] - self.width * {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]
        top, low = self.at[1] - CAP * self.size, self.at[1] + _DESCENT * self.size
        corners = [(left, top), (left + self.width, top), (left, low), (left + self.width, low)]
        if self.angle:
            corners = [_turned(one, self.at, self.angle) for one in corners]
        xs, ys = [one[0] for one in corners], [one[1] for one in corners]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def over(self) -> float:
        """How far letters of other scripts, and accents, may stand over the capitals."""
        is_tall = any(one.isalpha() and one > "\u00bf" and one != "ø" for one in self.text)
        return _ACCENT * self.size if is_tall else 0.0

    def moved(self, down: float) -> Words:
        """Return the same lower on the sheet."""
        return Words(
            self.text, (self.at[0], self.at[1] + down), self.size, self.anchor, self.angle, self.kind
        )


def _turned(spot: Spot, about: Spot, degrees: float) -> Spot:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    x, y = spot[0] - about[0], spot[1] - about[1]
    return about[0] + x * cos - y * sin, about[1] + x * sin + y * cos


@dataclass
class Canvas:
    """What has been drawn, by kind of line."""

    sheet: Sheet
    lines: dict[str, list[tuple[Line, bool]]] = field(default_factory=dict)
    circles: dict[str, list[tuple[Spot, float]]] = field(default_factory=dict)
    arrows: list[tuple[Spot, Spot]] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.taken = Room(3 * self.sheet.letter)  # what words must keep clear of
        self.inset: Canvas | None = None  # lines that keep to themselves: another scale, other weights

    def line(self, kind: str, spots: Line, *, closed: bool = False) -> None:
        """Draw a line of a kind through the spots."""
        if len(spots) > 1:
            self.lines.setdefault(kind, []).append((spots, closed))

    def circle(self, kind: str, centre: Spot, radius: float) -> None:
        """Draw a circle of a kind."""
        self.circles.setdefault(kind, []).append((centre, radius))

    def dot(self, at: Spot) -> None:
        """Draw the dot in which a leader ends on a surface: a line of no length whose ends are round."""
        self.line("spot", [at, (at[0] + 0.01, at[1])])

    def arrow(self, tip: Spot, back: Spot) -> None:
        """Draw an arrowhead with its tip here, its body lying in the direction `back`, a unit vector."""
        self.arrows.append((tip, back))

    def write(self, words: Words) -> None:
        """Write words, and keep their place clear."""
        self.words.append(words)
        self.taken.add(words.box)

    def add(self, other: Canvas, down: float) -> None:
        """Take over everything drawn on another canvas, so far lower on the sheet."""
        for kind, lines in other.lines.items():
            moved = [([(x, y + down) for x, y in spots], closed) for spots, closed in lines]
            self.lines.setdefault(kind, []).extend(moved)
        for kind, circles in other.circles.items():
            self.circles.setdefault(kind, []).extend(((x, y + down), r) for (x, y), r in circles)
        self.arrows += [((x, y + down), back) for (x, y), back in other.arrows]
        self.words += [one.moved(down) for one in other.words]

    @property
    def span(self) -> tuple[float, float]:
        """The least and most height that anything drawn reaches."""
        ys = [y for lines in self.lines.values() for spots, _ in lines for _, y in spots]
        ys += [y for one in self.words for y in (one.box[1] - one.over, one.box[3])]
        ys += [y + sign * r for circles in self.circles.values() for (_, y), r in circles for sign in (-1, 1)]
        return (min(ys), max(ys)) if ys else (0.0, 0.0)

    # -- out -------------------------------------------------------------------------------------

    def svg(self, height: float, label: str, glow: str = "") -> str:
        """Return the drawing as an SVG element of the sheet's width.

        `glow` is the colour of the metal's heat, for a page that lets the worked range take it.
        """
        unit = "" if self.sheet.unit == "px" else "mm"
        wide, high = svg.number(self.sheet.width), svg.number(height)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="dw dw--{self.sheet.id}" role="img"'
            f' aria-label="{safe(label)}" width="{wide}{unit}" height="{high}{unit}"'
            f' viewBox="0 0 {wide} {high}"{svg.attributes(color=glow or None)}>{"".join(self._body())}</svg>'
        )

    def _body(self) -> Iterable[str]:
        yield from self._linework()
        if self.inset:
            yield svg.group("dw-detail", self.inset._linework())
        yield from self._lettering()

    def _linework(self) -> Iterable[str]:
        for kind, look in _looks(self.sheet).items():
            rough = _ROUGH if kind == "tone" else 1  # its edge lies under a heavy line
            lines = (
                svg.path(spots, closed=closed, fine=self.sheet.finest * rough, grid=self.sheet.grid * rough)
                for spots, closed in self.lines.get(kind, ())
            )
            data = "".join(dict.fromkeys(lines))  # what lies on the same line in a view is drawn once
            circles = dict.fromkeys(self.circles.get(kind, ()))
            data += "".join(svg.circle(centre, radius) for centre, radius in circles)
            if data:
                yield f'<path class="dw-{kind}" d="{data}"{svg.attributes(**look)}/>'
        heads = "".join(svg.triangle(tip, back, self.sheet.arrow) for tip, back in self.arrows)
        if heads:
            yield f'<path class="dw-arrow" d="{heads}" fill="{INK}"/>'

    def _lettering(self) -> Iterable[str]:
        for kind, fill in (("text", INK), ("strong", INK), ("name", INK), ("quiet", QUIET)):
            mine = [one for one in self.words if one.kind == kind]
            weight = "600" if kind in _HEAVY_KINDS else None
            yield svg.group(
                f"dw-{kind}",
                (_word(one) for one in mine),
                font_family=FONT,
                font_size=self.sheet.letter,
                font_weight=weight,
                fill=fill,
            )
            signs = "".join(sign for one in mine for sign in _square_signs(one))
            if signs:
                look = svg.attributes(fill="none", stroke=fill, stroke_width=self.sheet.letter * 0.07)
                yield f'<path class="dw-sign" d="{signs}"{look}/>'


def _looks(sheet: Sheet) -> dict[str, dict[str, str | float | None]]:
    """Return the attributes of each kind of line, in the order they are laid on the sheet."""
    thin = sheet.thin
    line: dict[str, str | float | None] = {
        "fill": "none",
        "stroke": INK,
        "stroke_linejoin": "round",
        "stroke_linecap": "round",
    }
    dash = sheet.letter / 5

    def dashed(*parts: float) -> str:
        return " ".join(svg.number(one * dash) for one in parts)

    chain = dashed(9, 1.5, 1.2, 1.5)
    flat = {**line, "stroke_linecap": None}
    return {
        "tone": {"fill": TONE, "stroke": "none"},
        "ghost": {
            **flat,
            "stroke": GHOST,
            "stroke_width": thin * 1.2,
            "stroke_dasharray": dashed(6, 1.2, 1, 1.2, 1, 1.2),
        },
        "centre": {**flat, "stroke": QUIET, "stroke_width": thin * 0.8, "stroke_dasharray": chain},
        "pattern": {**line, "stroke_width": thin * 0.9},
        "hidden": {**flat, "stroke_width": thin * 1.3, "stroke_dasharray": dashed(2.6, 1.3)},
        "edge": {**line, "stroke_width": thin},
        "outline": {**line, "stroke_width": sheet.outline},
        "worked": {**line, "stroke_width": sheet.worked},
        "worked-edge": {**line, "stroke_width": sheet.outline * 0.8},
        "cover": {"fill": "#fff", "stroke": "none"},
        "over-outline": {**line, "stroke_width": sheet.outline},
        "over-worked": {**line, "stroke_width": sheet.worked},
        "over-edge": {**line, "stroke_width": thin * 1.2},
        "zone": {**flat, "stroke_width": sheet.outline * 1.4, "stroke_dasharray": dashed(4, 0.9, 1, 0.9)},
        "break": {**line, "stroke_width": thin},
        "dim": {**flat, "stroke_width": thin},
        "hatch": {**flat, "stroke_width": thin * 0.8},
        "section": {**line, "stroke_width": thin * 1.4},
        "mark": {**line, "stroke_width": thin * 1.6},
        "dot": {"fill": INK},
        "spot": {**line, "stroke_width": sheet.letter * 0.22},
        "cut": {**flat, "stroke_width": sheet.worked},
    }


def _word(one: Words) -> str:
    """Return a text element for each run of letters between the □ signs, which are drawn."""
    x = one.at[0] - one.width * {"start": 0.0, "middle": 0.5, "end": 1.0}[one.anchor]
    turn = (
        f' transform="rotate({svg.number(one.angle)} {svg.number(one.at[0])} {svg.number(one.at[1])})"'
        if one.angle
        else ""
    )
    if "□" not in one.text:
        anchor = "" if one.anchor == "start" else f' text-anchor="{one.anchor}"'
        return (
            f'<text x="{svg.number(one.at[0])}" y="{svg.number(one.at[1])}"{anchor}{turn}>'
            f"{safe(one.text)}</text>"
        )
    parts = []
    for run in _runs(one.text):
        if run != "□":
            parts.append(f'<text x="{svg.number(x)}" y="{svg.number(one.at[1])}"{turn}>{safe(run)}</text>')
        x += width_of(run, one.size)
    return "".join(parts)


def _runs(text: str) -> list[str]:
    """Return the text cut into □ signs and what lies between them."""
    runs = []
    for index, run in enumerate(text.split("□")):
        if index:
            runs.append("□")
        if run:
            runs.append(run)
    return runs


def _square_signs(one: Words) -> Iterable[str]:
    x = one.at[0] - one.width * {"start": 0.0, "middle": 0.5, "end": 1.0}[one.anchor]
    for run in _runs(one.text):
        if run == "□":
            side = _SIGN * one.size
            left, low = x + 0.03 * one.size, one.at[1] - 0.05 * one.size
            corners = [(left, low), (left + side, low), (left + side, low - side), (left, low - side)]
            yield svg.path([_turned(spot, one.at, one.angle) for spot in corners], closed=True)
        x += width_of(run, one.size)
