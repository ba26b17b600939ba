"""Lines and the boxes that hold them: centre lines, break lines, and what words keep clear of."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

from procedures.engine.pieces.pose import Station

from .room import Box, around
from .views import Line, Spot, View

_ASIDE = 0.05  # mm: a centre line that jumps by less runs on


def centre_runs(segments: Iterable[tuple[Station, ...]], view: View) -> list[Line]:
    """Return the centre line of a branch, parted where it jumps aside at a ledge."""
    runs: list[Line] = []
    for stations in segments:
        line = [view.flat(one.axes.origin) for one in stations]
        if runs and math.dist(runs[-1][-1], line[0]) < _ASIDE:
            runs[-1] += line[1:]
        else:
            runs.append(line)
    return runs


def between(first: Spot, second: Spot, share: float) -> Spot:
    return first[0] + (second[0] - first[0]) * share, first[1] + (second[1] - first[1]) * share


def thin_boxes(line: Line, half: float) -> list[Box]:
    """Return boxes that hold a line closely: one for a level or upright step, several for a slanting one."""
    boxes = []
    for first, last in pairwise(line):
        slant = min(abs(last[0] - first[0]), abs(last[1] - first[1]))
        count = 1 if slant < half else min(int(slant / half / 4) + 1, 24)
        for part in range(count):
            ends = [between(first, last, share / count) for share in (part, part + 1)]
            left, top, right, foot = around(ends)
            boxes.append((left - half, top - half, right + half, foot + half))
    return boxes


def longer(line: Line, over: float) -> Line:
    """Return a line that goes on so far beyond both its ends."""
    return [_beyond(line[1], line[0], over), *line[1:-1], _beyond(line[-2], line[-1], over)]


def _beyond(inner: Spot, end: Spot, over: float) -> Spot:
    x, y = end[0] - inner[0], end[1] - inner[1]
    far = (x * x + y * y) ** 0.5
    return (end[0] + x / far * over, end[1] + y / far * over) if far > 1e-9 else end


def wave(x: float, top: float, foot: float, swing: float) -> Line:
    """Return a freehand break line: one slow wave from top to foot."""
    bends = (0, 0.5, 0.85, 1, 0.85, 0.5, 0, -0.5, -0.85, -1, -0.85, -0.5, 0)
    step = (foot - top) / (len(bends) - 1)
    return [(x + swing * 0.6 * bend, top + index * step) for index, bend in enumerate(bends)]
