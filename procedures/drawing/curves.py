"""Curves through the spots of a line: where it turns smoothly, a few cubics instead of many short steps.

A line from stations along an arc or a spiral lies on the true curve at every spot. Its directions there are
those of the circle through three neighbours; the handles are Hobby's, which METAFONT draws with.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from .views import Spot

_SHARP = 0.4  # rad: a line that turns more than this at a spot has a corner there
_STRAIGHT = 1e-4  # rad: one that turns less runs straight on
_UNEVEN = 4.0  # steps that differ more than so many times in length belong to different curves
_MOST_TURN = 1.75  # rad: of one cubic
_ROOT = math.sqrt(5)


@dataclass(frozen=True)
class Cubic:
    """A curve to `end`, with its two handles; all in the coordinates of the sheet."""

    first: Spot
    second: Spot
    end: Spot


def smooth(spots: Sequence[Spot], fine: float) -> list[Spot | Cubic]:
    """Return what a pen does from the first spot on: lines to spots, or curves, true to within `fine`."""
    count = len(spots)
    if count < 6:
        return list(spots[1:])
    steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(spots)]
    lengths = [math.hypot(*one) for one in steps]
    turns = [0.0] + [_turn(steps[at - 1], steps[at]) for at in range(1, count - 1)] + [0.0]
    drawn: list[Spot | Cubic] = []
    at = 0
    while at < count - 1:
        end = _run_end(at, turns, lengths)
        if end - at < 4:
            drawn.append(spots[at + 1])
            at += 1
            continue
        ways = _ways(at, end, steps, lengths, turns)
        _fit(spots, at, end, at, ways, fine, drawn)
        at = end
    return drawn


def _turn(first: Spot, second: Spot) -> float:
    return math.atan2(
        first[0] * second[1] - first[1] * second[0], first[0] * second[0] + first[1] * second[1]
    )


def _run_end(at: int, turns: Sequence[float], lengths: Sequence[float]) -> int:
    """Return up to which spot the line turns smoothly from here on."""
    end = at + 1
    while (
        end < len(turns) - 1
        and _STRAIGHT < abs(turns[end]) < _SHARP
        and _even(lengths[end - 1], lengths[end])
    ):
        end += 1
    return end


def _even(one: float, two: float) -> bool:
    return one < _UNEVEN * two and two < _UNEVEN * one


def _ways(
    low: int, high: int, steps: Sequence[Spot], lengths: Sequence[float], turns: Sequence[float]
) -> list[float]:
    """Return the direction [rad] of the curve at each spot of a run, running on past half turns."""
    angle = math.atan2(steps[low][1], steps[low][0])
    first, second = lengths[low], lengths[low + 1]
    ways = [angle - turns[low + 1] * first / (first + second)]
    for at in range(low + 1, high):
        share = lengths[at - 1] / (lengths[at - 1] + lengths[at])
        ways.append(angle + turns[at] * share)
        angle += turns[at]
    before, last = lengths[high - 2], lengths[high - 1]
    ways.append(angle + turns[high - 1] * last / (before + last))
    return ways


def _fit(
    spots: Sequence[Spot],
    low: int,
    high: int,
    begin: int,
    ways: Sequence[float],
    fine: float,
    drawn: list[Spot | Cubic],
) -> None:
    """Draw the run from one spot to another with as few cubics as are true enough."""
    if high - low == 1:
        drawn.append(spots[high])
        return
    way, arrive = ways[low - begin], ways[high - begin]
    parts = math.ceil(abs(arrive - way) / _MOST_TURN)
    if parts <= 1:
        cubic = _cubic(spots[low], spots[high], way, arrive)
        if _is_true(cubic, spots, low, high, fine):
            drawn.append(cubic)
            return
        parts = 2
    parts = min(parts, high - low)
    ends = [low + (high - low) * part // parts for part in range(parts + 1)]
    for first, last in pairwise(ends):
        _fit(spots, first, last, begin, ways, fine, drawn)


def _cubic(start: Spot, end: Spot, way: float, arrive: float) -> Cubic:
    x, y = end[0] - start[0], end[1] - start[1]
    chord, angle = math.hypot(x, y), math.atan2(y, x)
    first, second = _handles(_wrapped(way - angle), _wrapped(angle - arrive))
    one = (start[0] + math.cos(way) * first * chord, start[1] + math.sin(way) * first * chord)
    two = (end[0] - math.cos(arrive) * second * chord, end[1] - math.sin(arrive) * second * chord)
    return Cubic(one, two, end)


def _handles(theta: float, phi: float) -> tuple[float, float]:
    """Return the lengths of the handles as shares of the chord, for its angles to the curve at both ends."""
    sin_t, cos_t, sin_p, cos_p = math.sin(theta), math.cos(theta), math.sin(phi), math.cos(phi)
    alpha = math.sqrt(2) * (sin_t - sin_p / 16) * (sin_p - sin_t / 16) * (cos_t - cos_p)
    leave = (2 + alpha) / (1 + (_ROOT - 1) / 2 * cos_t + (3 - _ROOT) / 2 * cos_p) / 3
    come = (2 - alpha) / (1 + (_ROOT - 1) / 2 * cos_p + (3 - _ROOT) / 2 * cos_t) / 3
    return leave, come


def _wrapped(angle: float) -> float:
    return (angle + math.pi) % (2 * math.pi) - math.pi


def _is_true(cubic: Cubic, spots: Sequence[Spot], low: int, high: int, fine: float) -> bool:
    """Whether a cubic passes the spots between its ends closely enough, looked at in three places."""
    start = spots[low]
    for share in (0.25, 0.5, 0.75):
        x, y = _at(start, cubic, share)
        near = low + round((high - low) * share)
        around = range(max(low, near - 3), min(high, near + 3))
        if min(_from_line((x, y), spots[one], spots[one + 1]) for one in around) > fine:
            return False
    return True


def _at(start: Spot, cubic: Cubic, t: float) -> Spot:
    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
    return (
        a * start[0] + b * cubic.first[0] + c * cubic.second[0] + d * cubic.end[0],
        a * start[1] + b * cubic.first[1] + c * cubic.second[1] + d * cubic.end[1],
    )


def _from_line(spot: Spot, first: Spot, last: Spot) -> float:
    x, y = last[0] - first[0], last[1] - first[1]
    long = x * x + y * y
    share = min(max(((spot[0] - first[0]) * x + (spot[1] - first[1]) * y) / long, 0.0), 1.0) if long else 0.0
    return math.hypot(spot[0] - first[0] - share * x, spot[1] - first[1] - share * y)
