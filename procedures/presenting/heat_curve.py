"""Temperature against time of one step as a picture, its lines in the colour of the heat they are at."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, takewhile
from math import ceil

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from calculators.formulas.heat_colour import CHAPMAN, STIRLING
from calculators.glow import glow_hex
from procedures.planning.curve import Stretch

from .heat_words import HeatWords

_WIDE, _HIGH = 860.0, 330.0
_LEFT, _RIGHT, _TOP, _FOOT = 62.0, 132.0, 14.0, 44.0
_FONT = "Barlow Condensed, Arial Narrow, sans-serif"
_BANDS = {"chapman": CHAPMAN, "stirling": STIRLING}
_NICE = (5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200)  # s between marks
_MARKS = 8
_DEGREES = {"mm": 200.0, "in": 400.0}  # between lines of the scale, in the reader's degrees
_APART = 13.0  # px between two words of the scale
_LOWEST = 0.0


class CurvePicture:
    """A curve with its axes: seconds across, the reader's degrees upwards, names of heats on the right."""

    def __init__(self, curve: tuple[Stretch, ...], words: HeatWords, stop: float) -> None:
        self.curve, self.words, self.units, self.stop = curve, words, words.units, stop
        self.last = max(curve[-1].points[-1][0], 1.0)
        hottest = max(at for one in curve for _, at in one.points)
        self.highest = ceil((hottest + 60) / 100) * 100

    def svg(self, told: str) -> SafeString:
        """Return it as an SVG element with its text alternative."""
        body = "".join([*self._scale(), *self._marks(), *self._names(), *self._stop(), *self._lines()])
        return mark_safe(  # noqa: S308 (words are escaped, the rest are numbers)
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(told)}" '
            f'width="{_WIDE:g}" height="{_HIGH:g}" viewBox="0 0 {_WIDE:g} {_HIGH:g}" '
            f'font-family="{_FONT}" font-size="15">{body}</svg>'
        )

    def _x(self, seconds: float) -> float:
        return round(_LEFT + seconds / self.last * (_WIDE - _LEFT - _RIGHT), 1)

    def _y(self, temperature: float) -> float:
        share = (temperature - _LOWEST) / (self.highest - _LOWEST)
        return round(_HIGH - _FOOT - share * (_HIGH - _FOOT - _TOP), 1)

    def _scale(self) -> Iterator[str]:
        apart = _DEGREES[self.units.length_unit]
        for at in takewhile(lambda one: one <= self.highest, self.words.degrees(apart)):
            y = self._y(at)
            yield _line(_LEFT, y, _WIDE - _RIGHT, y, 'stroke="#8a8a8a" stroke-width="0.5"')
            yield _text(_LEFT - 6, y + 5, self.units.temperature(at), "end")

    def _marks(self) -> Iterator[str]:
        apart = next((one for one in _NICE if self.last / one <= _MARKS), _NICE[-1])
        foot = _HIGH - _FOOT
        yield _line(_LEFT, foot, _WIDE - _RIGHT, foot, 'stroke="#111" stroke-width="1"')
        at = 0
        while at <= self.last:
            yield _line(self._x(at), foot, self._x(at), foot + 5, 'stroke="#111" stroke-width="1"')
            yield _text(self._x(at), foot + 20, self.units.seconds(at) if at else "0", "middle")
            at += apart

    def _names(self) -> Iterator[str]:
        """Yield the names of the heats on the right, each where its band begins, those that find room."""
        low = _HIGH
        for start, name in _BANDS[self.words.names]:
            y = self._y(start)
            if start >= self.highest or low - y < _APART:
                continue
            low = y
            left = _WIDE - _RIGHT + 4
            look = f'fill="{glow_hex(start)}" stroke="#111" stroke-width="0.5"'
            yield f'<rect x="{left:g}" y="{y - 9:g}" width="9" height="9" {look}/>'
            yield _text(_WIDE - _RIGHT + 18, y, name, "start")

    def _stop(self) -> Iterator[str]:
        y = self._y(self.stop)
        yield _line(_LEFT, y, _WIDE - _RIGHT, y, 'stroke="#111" stroke-width="1" stroke-dasharray="6 4"')
        yield _text(_WIDE - _RIGHT - 8, y + 17, "stop here", "end")

    def _lines(self) -> Iterator[str]:
        for one in self.curve:
            wide = {"fire": 2.0, "carried": 3.0, "anvil": 6.0}[one.where]
            for (begin, hot), (end, cool) in pairwise(one.points):
                ways = (self._x(begin), self._y(hot), self._x(end), self._y(cool))
                if one.where != "fire":
                    yield _line(*ways, f'stroke="#111" stroke-width="{wide + 2:g}" stroke-linecap="round"')
        for one in self.curve:
            wide = {"fire": 2.0, "carried": 3.0, "anvil": 6.0}[one.where]
            for (begin, hot), (end, cool) in pairwise(one.points):
                look = f'stroke="{glow_hex((hot + cool) / 2)}" stroke-width="{wide:g}" stroke-linecap="round"'
                if one.where == "fire":
                    look = 'stroke="#111" stroke-width="1.5"'
                yield _line(self._x(begin), self._y(hot), self._x(end), self._y(cool), look)


def _line(x1: float, y1: float, x2: float, y2: float, look: str) -> str:
    return f'<line x1="{x1:g}" y1="{y1:g}" x2="{x2:g}" y2="{y2:g}" {look}/>'


def _text(x: float, y: float, words: str, anchor: str) -> str:
    return f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}" fill="#111">{escape(words)}</text>'
