"""Notes beside a view that no rail or tier can carry: leaders, slanting lengths, angles and heights.

Each tries a number of places and takes the cheapest free one. What finds no place is handed back, to be said
below the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from .canvas import Kind, Words
from .lettering import width_of
from .panel import Panel
from .room import Box, runs_through
from .sheet import CAP
from .views import Line, Spot

_WAYS = tuple(
    (math.cos(turn), math.sin(turn)) for turn in (2 * math.pi * (step + 0.5) / 24 for step in range(24))
)
_LOOKED_AT = (0.25, 0.4, 0.55, 0.7, 0.85, 0.97)  # shares of a leader
_SHARES = (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.97)  # of a leader, which words keep clear of
_FAR = (1.5, 2.2, 3.0, 4.0, 5.2, 6.6, 8.2)  # letters from what is named to its words
_ELBOWS = sorted(  # (cost, letters off what is named)
    (far + 0.8 * abs(y) ** 6, x * far, y * far) for far in _FAR for x, y in _WAYS
)


class Callouts:
    """The free places round the metal of one panel."""

    def __init__(self, panel: Panel) -> None:
        self.panel = panel
        self.canvas = panel.canvas
        self.size = panel.sheet.letter
        self.low = panel.sheet.margin
        self.high = panel.sheet.width - panel.sheet.margin

    # -- leaders ---------------------------------------------------------------------------------

    def leader(
        self,
        words: str,
        targets: Sequence[Spot],
        *,
        toward: Spot | None = None,
        arrow: bool | None = True,
        kind: Kind = "text",
    ) -> bool:
        """Write words beside one of the targets with a line to it; `toward` is the side to prefer.

        The line ends in an arrowhead on an outline, in a dot on a surface; with `arrow` None in nothing.
        """
        wide = Words(words, (0, 0), self.size, kind=kind).width
        best: tuple[float, Spot, Spot, float] | None = None
        for cost, x, y in self._elbows(toward):
            if best is not None and cost >= best[0]:
                break
            for target in targets:
                elbow = (target[0] + x, target[1] + y)
                left = elbow[0] if x >= 0 else elbow[0] - wide
                if not self._is_clear(self._box(left, elbow[1], wide)):
                    continue
                whole = cost + self._crossings(target, elbow)
                if best is None or whole < best[0]:
                    best = (whole, target, elbow, left)
        if best is None:
            return False
        _, target, elbow, left = best
        text = Words(words, (left, elbow[1] + CAP * self.size / 2), self.size, "start", kind=kind)
        self._draw_leader(text, target, elbow, arrow=arrow)
        return True

    def _elbows(self, toward: Spot | None) -> list[tuple[float, float, float]]:
        """Return (cost, where the words begin off the target) of all places, the cheapest first.

        Near and on the preferred side is cheap.
        """
        if toward is None:
            return [(cost, x * self.size, y * self.size) for cost, x, y in _ELBOWS]
        return sorted(
            (
                cost + 1.6 * (1 - (x * toward[0] + y * toward[1]) / math.hypot(x, y)),
                x * self.size,
                y * self.size,
            )
            for cost, x, y in _ELBOWS
        )

    def _box(self, left: float, level: float, wide: float) -> Box:
        half = CAP * self.size / 2
        return left - 0.3 * self.size, level - half, left + wide + 0.3 * self.size, level + half

    def _is_clear(self, box: Box, *, is_line: bool = False) -> bool:
        """Whether words may stand in a box, or a line run through it: a line may cross the old outline."""
        if box[0] < self.low or box[2] > self.high:
            return False
        gap = 0.28 * self.size
        return (
            self.canvas.taken.is_free(box, gap)
            and self.panel.metal.is_free(box, gap)
            and (is_line or self.panel.ghost.is_free(box))
        )

    def _crossings(self, target: Spot, elbow: Spot) -> float:
        """Return what a leader costs that runs over words, lines or metal elsewhere than at its end."""
        cost = 12.0 * sum(runs_through(target, elbow, one.box) for one in self.canvas.words)
        for share in _LOOKED_AT:
            x, y = target[0] + (elbow[0] - target[0]) * share, target[1] + (elbow[1] - target[1]) * share
            spot = (x, y, x, y)
            if not self.canvas.taken.is_free(spot):
                cost += 3
            if not self.panel.metal.is_free(spot):
                cost += 1.2
        return cost

    def _draw_leader(self, words: Words, target: Spot, elbow: Spot, *, arrow: bool | None) -> None:
        self.canvas.write(words)
        far = math.dist(target, elbow)
        back = ((elbow[0] - target[0]) / far, (elbow[1] - target[1]) / far)
        short = 0.2 * self.size
        end = (elbow[0] - back[0] * short, elbow[1] - back[1] * short)
        self.canvas.line("dim", [target, end])
        if arrow:
            self.canvas.arrow(target, back)
        elif arrow is not None:
            self.canvas.dot(target)
        for share in _SHARES:
            x, y = target[0] + (end[0] - target[0]) * share, target[1] + (end[1] - target[1]) * share
            thin = 0.1 * self.size
            self.canvas.taken.add((x - thin, y - thin, x + thin, y + thin))

    # -- lengths at a slant ----------------------------------------------------------------------

    def aligned(self, words: str, first: Spot, last: Spot, low: float, high: float) -> bool:
        """Give a straight run its length along it, on the side where there is room.

        `low` and `high` are how far the metal reaches to its right and left, seen along it, in sheet units.
        """
        long = math.dist(first, last)
        wide = width_of(words, self.size)
        if long < wide + 0.4 * self.size or long < 2.6 * self.panel.sheet.arrow:
            return False
        along = ((last[0] - first[0]) / long, (last[1] - first[1]) / long)
        for off in (1.5, 2.3, 3.2):
            for sense, reached in ((-1, high), (1, low)):
                out = (-along[1] * sense, along[0] * sense)
                away = abs(reached) + off * self.size
                if self._put_aligned(words, (first, last), along, out, away, abs(reached)):
                    return True
        return False

    def _put_aligned(
        self, words: str, ends: tuple[Spot, Spot], along: Spot, out: Spot, away: float, near: float
    ) -> bool:
        ends_out = [(x + out[0] * away, y + out[1] * away) for x, y in ends]
        degrees = math.degrees(math.atan2(along[1], along[0]))
        if degrees > 90.01:
            degrees -= 180
        elif degrees <= -89.99:
            degrees += 180
        up = (math.sin(math.radians(degrees)), -math.cos(math.radians(degrees)))
        lift = 0.28 * self.size
        middle = ((ends_out[0][0] + ends_out[1][0]) / 2, (ends_out[0][1] + ends_out[1][1]) / 2)
        text = Words(
            words,
            (middle[0] + up[0] * lift, middle[1] + up[1] * lift),
            self.size,
            "middle",
            degrees,
            "strong",
        )
        line_boxes = [_around(spot, 0.12 * self.size) for spot in _spread(ends_out[0], ends_out[1])]
        if not all(self._is_clear(one) for one in _text_boxes(text)):
            return False
        if not all(self._is_clear(one, is_line=True) for one in line_boxes):
            return False
        self.canvas.words.append(text)
        self.canvas.taken.add(*_text_boxes(text), *line_boxes)
        self.canvas.line("dim", ends_out)
        self.canvas.arrow(ends_out[0], along)
        self.canvas.arrow(ends_out[1], (-along[0], -along[1]))
        for (x, y), (end_x, end_y) in zip(ends, ends_out, strict=True):
            begun = near + 0.18 * self.size
            over = 0.22 * self.size
            self.canvas.line(
                "dim",
                [(x + out[0] * begun, y + out[1] * begun), (end_x + out[0] * over, end_y + out[1] * over)],
            )
        return True

    # -- angles ----------------------------------------------------------------------------------

    def angle(self, words: str, vertex: Spot, first: Spot, second: Spot, inner: float) -> bool:
        """Give the angle between two directions from a vertex, its arc beyond `inner` sheet units."""
        begin, end = math.atan2(first[1], first[0]), math.atan2(second[1], second[0])
        sweep = (end - begin + math.pi) % (2 * math.pi) - math.pi
        wide = width_of(words, self.size)
        for radius in (inner + step * self.size for step in (1.2, 2.0, 3.0, 4.2, 5.6, 7.2)):
            if abs(sweep) * radius < 2.4 * self.panel.sheet.arrow:
                continue
            arc = [_polar(vertex, radius, begin + sweep * share / 16) for share in range(17)]
            turn = begin + sweep / 2
            lift = (
                0.25 * self.size + abs(math.cos(turn)) * wide / 2 + abs(math.sin(turn)) * CAP * self.size / 2
            )
            middle = _polar(vertex, radius + lift, turn)
            text = Words(words, (middle[0], middle[1] + CAP * self.size / 2), self.size, kind="strong")
            chords = list(pairwise(arc))
            if not self._is_clear(text.box) or any(
                runs_through(*chord, one.box) for chord in chords for one in self.canvas.words
            ):
                continue
            self.canvas.write(text)
            self.canvas.line("dim", arc)
            self.canvas.taken.add(*(_around(spot, 0.1 * self.size) for spot in arc[1:-1]))
            sense = 1 if sweep > 0 else -1
            self.canvas.arrow(arc[0], (-math.sin(begin) * sense, math.cos(begin) * sense))
            self.canvas.arrow(arc[-1], (math.sin(end) * sense, -math.cos(end) * sense))
            self.canvas.line("centre", [vertex, _polar(vertex, radius + 0.4 * self.size, begin)])
            return True
        return False

    # -- heights ---------------------------------------------------------------------------------

    def height(self, words: str, spots: Sequence[Spot]) -> bool:
        """Give the whole height of metal whose outline passes the spots, on the side nearer to its ends."""
        tried = []
        for at, sense in (
            (self.panel.right + 1.5 * self.size, 1),
            (self.panel.right + 2.6 * self.size, 1),
            (self.panel.left - 0.9 * self.size, -1),
            (self.panel.left - 2.0 * self.size, -1),
        ):
            top = min(spots, key=lambda one: (one[1], -sense * one[0]))
            foot = max(spots, key=lambda one: (one[1], sense * one[0]))
            tried.append((abs(at - top[0]) + abs(at - foot[0]), at, sense, top, foot))
        return any(self._put_height(words, *one[1:]) for one in sorted(tried))

    def _put_height(self, words: str, at: float, sense: int, top: Spot, foot: Spot) -> bool:
        long = foot[1] - top[1]
        if long < 2.6 * self.panel.sheet.arrow:
            return False
        middle = (top[1] + foot[1]) / 2
        text = Words(words, (at - 0.28 * self.size, middle), self.size, "middle", -90)
        if text.width > long - 0.2 * self.size:  # too long to stand along the line: level, beside it
            spot = (at + sense * 0.35 * self.size, middle + CAP * self.size / 2)
            text = Words(words, spot, self.size, "start" if sense > 0 else "end")
        line = [_around(spot, 0.12 * self.size) for spot in _spread((at, top[1]), (at, foot[1]))]
        if at + 0.3 * self.size > self.high or not self._is_clear(text.box):
            return False
        if not all(self._is_clear(box, is_line=True) for box in line):
            return False
        out = [((x + sense * 0.2 * self.size, y), (at + sense * 0.22 * self.size, y)) for x, y in (top, foot)]
        if any(runs_through(*one, other.box) for one in out for other in self.canvas.words):
            return False
        self.canvas.write(text)
        self.canvas.line("dim", [(at, top[1]), (at, foot[1])])
        self.canvas.arrow((at, top[1]), (0.0, 1.0))
        self.canvas.arrow((at, foot[1]), (0.0, -1.0))
        thin = 0.1 * self.size
        self.canvas.taken.add((at - thin, top[1], at + thin, foot[1]))
        for first, last in out:
            self.canvas.line("dim", [first, last])
            (left, level), (right, _) = sorted((first, last))
            self.canvas.taken.add((left, level - thin, right, level + thin))
        return True


def _around(spot: Spot, half: float) -> Box:
    return spot[0] - half, spot[1] - half, spot[0] + half, spot[1] + half


def _spread(first: Spot, last: Spot) -> Line:
    count = 12
    return [
        (first[0] + (last[0] - first[0]) * step / count, first[1] + (last[1] - first[1]) * step / count)
        for step in range(count + 1)
    ]


def _polar(centre: Spot, radius: float, turn: float) -> Spot:
    return centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)


def _text_boxes(words: Words) -> list[Box]:
    """Return boxes that together hold a slanting line of words closely."""
    turn = math.radians(words.angle)
    along = (math.cos(turn), math.sin(turn))
    up = (math.sin(turn), -math.cos(turn))
    rise = CAP * words.size / 2
    half = CAP * words.size / 2
    count = max(int(words.width / (CAP * words.size)) + 1, 2)
    boxes = []
    for step in range(count):
        off = (step / (count - 1) - 0.5) * (words.width - CAP * words.size)
        x = words.at[0] + along[0] * off + up[0] * rise
        y = words.at[1] + along[1] * off + up[1] * rise
        boxes.append(_around((x, y), half))
    return boxes
