"""The sheets of a print, and each as a page in SVG: clipped to the paper, with rulers and register marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from procedures.drawing.lettering import safe

from .paper import EDGE, FOOT, LAYINGS, MOST_SHEETS, OVERLAP, Paper
from .pattern import SMALL, Arc, Item, Line, Pattern, Words, cross
from .svg import clipped_svg, items_svg, number
from .tiles import Seam, Sheet, laid

RULER = 100.0  # mm
_INCH = 25.4  # mm
_INCHES = 4
_LABELLED = 0.72  # of the way along a seam, where there is mostly nothing else
_REGISTER = 18.0  # mm from the corners of the window to the register marks


@dataclass(frozen=True)
class Sheets:
    """A whole print: its paper, how its strips are laid, and its sheets."""

    paper: Paper
    laying: str
    sheets: tuple[Sheet, ...]

    @property
    def is_too_many(self) -> bool:
        """Whether it is more than anyone would tape together."""
        return len(self.sheets) > MOST_SHEETS

    @property
    def laying_words(self) -> str:
        """How its strips are laid, in words."""
        return LAYINGS[self.laying]


def sheets_of(patterns: Sequence[Pattern], size: str, laying: str) -> Sheets:
    """Return the print of some patterns on a paper, upright or on its side, whichever takes fewer sheets."""
    prints = []
    for is_wide in (False, True):
        paper = Paper(size, is_wide)
        wide, _ = paper.room
        chosen: list[Pattern] = []
        for one in patterns:
            chosen += one.stacked(wide) if laying == "stacked" and one.stacked else (one,)
        prints.append(Sheets(paper, laying, tuple(laid(chosen, paper))))
    return min(prints, key=lambda one: len(one.sheets))


def page_svg(sheet: Sheet, paper: Paper, *, inches: bool) -> str:
    """Return a sheet as SVG of the paper's own size; `inches` adds a ruler of 4 in."""
    width, height = number(paper.width), number(paper.height)
    inside = "".join(clipped_svg(one.pattern, one.left, one.top, paper.window) for one in sheet.placed)
    furniture = items_svg([*_rulers(paper, inches=inches), *_seams(sheet, paper)], lambda spot: spot)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><title>{safe(sheet.title)}</title>{inside}{furniture}</svg>'
    )


def _rulers(paper: Paper, *, inches: bool) -> list[Item]:
    """Return the check rulers, Y downwards: one along the foot, one up the side."""
    left, _, _, foot = paper.window
    y = foot + 7.0
    items: list[Item] = [Line("marks", ((left, y), (left + RULER, y)))]
    x = EDGE + 4.0
    items.append(Line("marks", ((x, foot), (x, foot - RULER))))
    for step in range(0, 101, 5):
        long = 3.5 if step % 50 == 0 else 2.5 if step % 10 == 0 else 1.5
        items.append(Line("marks", ((left + step, y), (left + step, y - long))))
        items.append(Line("marks", ((x, foot - step), (x - long, foot - step))))
    items += [Words(words, (left + at, y + 2.8), SMALL, "middle") for at, words in ((0, "0"), (50, "50"))]
    items.append(Words("100 mm", (left + 100, y + 2.8), SMALL, "end"))
    items.append(Words("100 mm", (x + 2.8, foot - 100), SMALL, "end", 90.0))
    if inches:
        y += 9.0
        items.append(Line("marks", ((left, y), (left + _INCHES * _INCH, y))))
        for quarter in range(4 * _INCHES + 1):
            long = 3.0 if quarter % 4 == 0 else 1.8
            at = left + quarter * _INCH / 4
            items.append(Line("marks", ((at, y), (at, y - long))))
        items.append(Words("4 in", (left + _INCHES * _INCH, y + 2.8), SMALL, "end"))
    return items


def _seams(sheet: Sheet, paper: Paper) -> list[Item]:
    """Return the cut lines, register marks and labels of the sides where other sheets join, Y downwards."""
    left, top, right, foot = paper.window
    half = OVERLAP / 2
    items: list[Item] = []
    for seam in sheet.seams:
        upright = seam.side in ("left", "right")
        at = {"left": left + half, "right": right - half, "top": top + half, "foot": foot - half}[seam.side]
        ends = ((at, top), (at, foot)) if upright else ((left, at), (right, at))
        is_cut = seam.side in ("left", "top")
        items.append(Line("marks", ends, dashed=not is_cut))
        low, high = (top, foot) if upright else (left, right)
        for place in (low + _REGISTER, high - _REGISTER):
            spot = (at, place) if upright else (place, at)
            items += [Arc("marks", spot, 2.5), *cross(spot, 4.5, "marks")]
        items += _label(seam, sheet.label, at, low, high)
    return items


def _label(seam: Seam, own: str, at: float, low: float, high: float) -> list[Item]:
    words = f"cut {own} here, join {own} to {seam.other}"
    if seam.side in ("right", "foot"):
        words = f"join {own} to {seam.other}: {seam.other} is laid on this line"
    middle = low + _LABELLED * (high - low)
    if seam.side in ("left", "right"):
        off = -1.2 if seam.side == "left" else 1.2 + 0.75 * SMALL
        return [Words(words, (at + off, middle), SMALL, "middle", 90.0)]
    off = -1.2 if seam.side == "top" else 1.2 + 0.75 * SMALL
    return [Words(words, (middle, at + off), SMALL, "middle")]


__all__ = ["EDGE", "FOOT", "RULER", "Sheet", "Sheets", "page_svg", "sheets_of"]
