"""The foot of a sheet: scale bar, scale, the sign of first-angle projection, what found no other place."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.wording import UnitSystem

from .canvas import Canvas, Words
from .lettering import bare, fitted, spaced, width_of
from .plot import Plot
from .sheet import CAP

_BROKEN = ("shortened at the breaks", "shortened", "broken")  # the first that fits
_INCH = 25.4
_METRIC_BARS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
_INCH_BARS = tuple(_INCH * one for one in (0.125, 0.25, 0.5, 1, 2, 3, 6, 12, 24, 36, 60, 120, 240))


def draw_footer(
    canvas: Canvas, plot: Plot, units: UnitSystem, top: float, lost: Sequence[str], *, two_views: bool
) -> float:
    """Draw the foot of a sheet from `top` down; return where it ends."""
    sheet = canvas.sheet
    size = sheet.letter
    at = top
    for line in _lines(lost, size, sheet.width - 2 * sheet.margin):
        canvas.write(Words(line, (sheet.margin, at + CAP * size), size, "start"))
        at += 1.25 * size
    at += CAP * size + 0.1 * size
    bars = _METRIC_BARS if units.length_unit == "mm" else _INCH_BARS
    wanted = 4.5 * size / plot.scale
    long = max((one for one in bars if one <= wanted), default=bars[0])
    left, right = sheet.margin, sheet.margin + long * plot.scale
    tick = 0.22 * size
    level = at - CAP * size / 2
    canvas.line("dim", [(left, level - tick), (left, level + tick)])
    canvas.line("dim", [(right, level - tick), (right, level + tick)])
    canvas.line("outline", [(left, level), (right, level)])
    said = f"{bare(long, units)}{' mm' if units.length_unit == 'mm' else ''}"
    words = spaced(f"{said}  ·  {plot.ratio}")
    if "break" in canvas.lines:
        room = sheet.width - sheet.margin - right - 0.5 * size
        longer = [f"{words}, {one}" for one in _BROKEN]
        words = next((one for one in longer if width_of(one, size) <= room), fitted(longer[-1], size, room))
    canvas.write(Words(words, (right + 0.5 * size, at), size, "start", kind="quiet"))
    end = right + 0.5 * size + width_of(words, size)
    if two_views and not sheet.is_small and end + 4.0 * size < sheet.width - sheet.margin:
        _first_angle(canvas, end + 1.2 * size, level)
    return at + 0.2 * size


def _lines(lost: Sequence[str], size: float, room: float) -> list[str]:
    """Return what found no place, joined into as many lines as it takes."""
    lines: list[str] = []
    for words in lost:
        joined = f"{lines[-1]}  ·  {words}" if lines else words
        if lines and width_of(joined, size) <= room:
            lines[-1] = joined
        else:
            lines.append(fitted(words, size, room))
    return lines


def _first_angle(canvas: Canvas, left: float, level: float) -> None:
    """Draw the sign of first-angle projection: a cone, and to its right as it is seen from the left."""
    size = canvas.sheet.letter
    small, large, long = 0.2 * size, 0.38 * size, 0.9 * size
    cone = [
        (left, level - small),
        (left + long, level - large),
        (left + long, level + large),
        (left, level + small),
    ]
    canvas.line("section", cone, closed=True)
    centre = (left + long + 0.85 * size, level)
    canvas.circle("section", centre, small)
    canvas.circle("section", centre, large)
    canvas.line("centre", [(left - 0.2 * size, level), (centre[0] + large + 0.2 * size, level)])
    canvas.line("centre", [(centre[0], level - large - 0.2 * size), (centre[0], level + large + 0.2 * size)])
