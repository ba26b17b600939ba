"""Reading drawings back: their words with the boxes they take up in the real font, their lines as points."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

from fontTools.ttLib import TTFont

NS = "{http://www.w3.org/2000/svg}"
FONTS = Path(__file__).parents[3] / "static/fonts/barlow-condensed"
ELSEWHERE = 0.5  # width of a letter the font has not, of its size


@cache
def font(weight: str) -> tuple[dict[int, str], dict[str, tuple[int, int]], int]:
    read = TTFont(FONTS / f"latin-{weight}-normal.woff2")
    return read.getBestCmap(), read["hmtx"].metrics, read["head"].unitsPerEm


def width(text: str, size: float, weight: str) -> float:
    names, metrics, em = font(weight)
    widths = (metrics[names[ord(one)]][0] / em if ord(one) in names else ELSEWHERE for one in text)
    return size * sum(widths)


@dataclass(frozen=True)
class Text:
    """Words on a drawing and the corners of their box."""

    words: str
    size: float
    kind: str
    corners: tuple[tuple[float, float], ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


class Drawing:
    """A drawing read back from its SVG."""

    def __init__(self, svg: str) -> None:
        self.svg = svg
        self.root = ET.fromstring(svg)  # noqa: S314 - our own drawing
        self.texts = [
            _text(one, group) for group in self.root.iter(f"{NS}g") for one in group.iter(f"{NS}text")
        ]

    @property
    def size(self) -> tuple[float, float]:
        _, _, wide, high = (float(one) for one in self.root.get("viewBox").split())
        return wide, high

    @property
    def words(self) -> list[str]:
        return [one.words for one in self.texts]

    def element(self, kind: str):
        return next((one for one in self.root.iter(f"{NS}path") if one.get("class") == f"dw-{kind}"), None)

    def lines(self, kind: str) -> list[list[tuple[float, float]]]:
        found = self.element(kind)
        return points(found.get("d")) if found is not None else []

    def stroke(self, kind: str) -> float:
        return float(self.element(kind).get("stroke-width"))

    def span(self, kind: str) -> tuple[float, float]:
        """The least and most X of a kind of line."""
        xs = [x for line in self.lines(kind) for x, _ in line]
        return min(xs), max(xs)


def _text(one, group) -> Text:
    size, weight = float(group.get("font-size")), group.get("font-weight") or "400"
    words = one.text or ""
    wide = width(words, size, weight)
    x, y = float(one.get("x")), float(one.get("y"))
    left = x - wide * {"middle": 0.5, "end": 1.0}.get(one.get("text-anchor"), 0.0)
    corners = [(left, y - 0.7 * size), (left + wide, y - 0.7 * size), (left + wide, y), (left, y)]
    turn = re.match(r"rotate\((\S+) (\S+) (\S+)\)", one.get("transform") or "")
    if turn:
        angle, about_x, about_y = (float(number) for number in turn.groups())
        corners = [_turned(spot, (about_x, about_y), angle) for spot in corners]
    return Text(words, size, group.get("class").removeprefix("dw-"), tuple(corners))


def _turned(spot, about, degrees):
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    x, y = spot[0] - about[0], spot[1] - about[1]
    return about[0] + x * cos - y * sin, about[1] + x * sin + y * cos


TOKEN = re.compile(r"[MhvlcaZz]|-?\d*\.?\d+")
TAKES = {"M": 2, "h": 1, "v": 1, "l": 2, "c": 6, "a": 7}


def points(data: str) -> list[list[tuple[float, float]]]:
    """Return the lines of path data as the points they pass, of curves eight on each."""
    lines: list[list[tuple[float, float]]] = []
    tokens = TOKEN.findall(data)
    at, letter = 0, ""
    x = y = 0.0
    while at < len(tokens):
        if tokens[at].isalpha():
            letter = tokens[at]
            at += 1
            if letter in "zZ":
                lines[-1].append(lines[-1][0])
                x, y = lines[-1][0]
                continue
        numbers = [float(one) for one in tokens[at : at + TAKES[letter]]]
        at += TAKES[letter]
        if letter == "M":
            x, y = numbers
            lines.append([(x, y)])
            continue
        if letter == "c":
            lines[-1] += [_on_curve((x, y), numbers, step / 8) for step in range(1, 8)]
        x += numbers[0] if letter == "h" else 0.0 if letter == "v" else numbers[-2]
        y += numbers[0] if letter == "v" else 0.0 if letter == "h" else numbers[-1]
        lines[-1].append((x, y))
    return lines


def _on_curve(start, numbers, t):
    """A place on a curve: its start, and the steps from there to its handles and its end."""
    b, c, d = 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
    return tuple(
        at + b * numbers[axis] + c * numbers[2 + axis] + d * numbers[4 + axis]
        for axis, at in enumerate(start)
    )


def cross(one: Text, two: Text, slack: float) -> bool:
    """Whether two boxes of words, perhaps turned, overlap by more than the slack (separating axes)."""
    for first, second in ((one, two), (two, one)):
        for (ax, ay), (bx, by) in zip(first.corners, first.corners[1:], strict=False):
            long = math.hypot(bx - ax, by - ay)
            if long == 0:
                continue
            normal = ((by - ay) / long, (ax - bx) / long)
            a = [x * normal[0] + y * normal[1] for x, y in first.corners]
            b = [x * normal[0] + y * normal[1] for x, y in second.corners]
            if max(a) - slack <= min(b) or max(b) - slack <= min(a):
                return False
    return True


INKED = ("outline", "worked", "over-outline", "over-worked", "hidden", "dim", "ghost", "break", "zone", "cut")


def struck_through(read: Drawing) -> list[tuple[str, str]]:
    """Return (words, kind of line) wherever a line runs through words."""
    found = []
    for one in read.texts:
        left, top, right, foot = one.box
        inset = 0.12 * one.size
        box = (left + inset / 2, top + inset, right - inset / 2, foot - inset)
        for kind in INKED:
            steps = (step for line in read.lines(kind) for step in pairwise(line))
            if any(_runs_through(first, last, box) for first, last in steps):
                found.append((one.words, kind))
    return found


def _runs_through(first, last, box) -> bool:
    """Whether any of a dozen places on a line lies in a box."""
    if max(first[0], last[0]) < box[0] or min(first[0], last[0]) > box[2]:
        return False
    places = (
        (first[0] + (last[0] - first[0]) * step / 12, first[1] + (last[1] - first[1]) * step / 12)
        for step in range(13)
    )
    return any(box[0] < x < box[2] and box[1] < y < box[3] for x, y in places)
