"""The heats of a step as bars: one a heat, from out of the fire at its top to back into it at its foot."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from calculators.glow import glow_hex
from procedures.planning.plans import StepPlan

HIGH = 104.0  # px of the whole scale
TOP, FOOT = 1330.0, 690.0  # °C at its top and its foot
_WIDE, _GAP = 16.0, 4.0
_DOT = 3.0
_PLANNED = 14.0  # px below, for the author's heats
MOST = 40  # bars of one step; more are told in figures
_SHADES = 5  # of a bar's glow


@dataclass(frozen=True, slots=True)
class Bars:
    """The picture of a step's heats, and whether there were more than are drawn."""

    svg: SafeString
    more: int


def bars_of(step: StepPlan, anchor: str, told: str) -> Bars:
    """Return the bars of a step: filled as far as is typical, hollow to the high; a dot a planned heat."""
    typical, high = round(step.predicted.typical), round(step.predicted.high)
    count = max(high, step.planned, 1)
    drawn = min(count, MOST)
    wide = drawn * (_WIDE + _GAP) + _GAP
    bars = (_bar(step, number, filled=number < typical, anchor=anchor) for number in range(min(high, drawn)))
    body = "".join(bars)
    dots = "".join(_dot(number) for number in range(min(step.planned, drawn)))
    return Bars(_svg(wide, _shades(step, anchor) + body + dots, told), max(count - MOST, 0))


def _svg(wide: float, body: str, told: str) -> SafeString:
    high = HIGH + _PLANNED
    return mark_safe(  # noqa: S308 (words are escaped, the rest are numbers)
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(told)}" '
        f'width="{wide:g}" height="{high:g}" viewBox="0 0 {wide:g} {high:g}">{body}</svg>'
    )


def height_of(temperature: float) -> float:
    """Return where a temperature [°C] lies on the scale, in px from its top."""
    share = (TOP - min(max(temperature, FOOT), TOP)) / (TOP - FOOT)
    return round(share * HIGH, 1)


def _shades(step: StepPlan, anchor: str) -> str:
    if step.limits is None:
        return ""
    start, stop = step.limits.start, step.limits.stop
    shares = [number / _SHADES for number in range(_SHADES + 1)]
    stops = "".join(
        f'<stop offset="{share:g}" stop-color="{glow_hex(start - (start - stop) * share)}"/>'
        for share in shares
    )
    way = 'x1="0" y1="0" x2="0" y2="1"'
    return f'<defs><linearGradient id="glow-{anchor}" {way}>{stops}</linearGradient></defs>'


def _bar(step: StepPlan, number: int, *, filled: bool, anchor: str) -> str:
    if step.limits is None:
        return ""
    top, foot = height_of(step.limits.start), height_of(step.limits.stop)
    left = _GAP + number * (_WIDE + _GAP)
    look = f'fill="url(#glow-{anchor})" stroke="#111" stroke-width="1"'
    if not filled:
        look = 'fill="none" stroke="#111" stroke-width="1" stroke-dasharray="3 2"'
    high = max(foot - top, 3.0)
    return f'<rect x="{left + 0.5:g}" y="{top + 0.5:g}" width="{_WIDE - 1:g}" height="{high - 1:g}" {look}/>'


def _dot(number: int) -> str:
    middle = _GAP + number * (_WIDE + _GAP) + _WIDE / 2
    return f'<circle cx="{middle:g}" cy="{HIGH + _PLANNED / 2:g}" r="{_DOT:g}" fill="#111"/>'
