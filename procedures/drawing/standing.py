"""What stands on a bar or is wound round it: collars, wraps, heads, rivets, the fillets of a jump weld."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from procedures.engine.pieces.axes import Axes

from .notes import HoleNote
from .room import around
from .views import Line, Spot, heading, left_of

if TYPE_CHECKING:
    from .panel import Panel

_CORNERS = 16  # of a dome
_ROUND = 4  # steps of each end of a strand
_SEEN = 0.7  # cosine: what is turned at least so far to the reader is seen end on
_MANY, _SHOWN = 20, 2  # turns that are drawn one by one; of more, so many at each end
_FINE = 0.14  # letters: strands that come out thinner are not drawn one by one


def _reaches(panel: Panel, note: HoleNote, axes: Axes, out: Spot) -> tuple[float, float]:
    """Return how far the bars that a feature holds reach along a vector of the view, from its middle [mm]."""
    x, y = panel.view.flat(axes.origin)
    found: list[float] = []
    for branch, at in ((note.branch, note.feature.at), *note.held):
        there_x, there_y = panel.view.flat(panel.axes(branch, at).origin)
        off = (there_x - x) * out[0] + (there_y - y) * out[1]
        found += [off + reach / panel.plot.scale for reach in panel.edges(branch, at, out)]
    return min(found), max(found)


def _placed(panel: Panel, axes: Axes, line: Line, ahead: Spot) -> Line:
    """Return a line told along a direction of the view and to its left, from the middle of a feature [mm]."""
    x, y = panel.view.flat(axes.origin)
    out = left_of(ahead)
    return [(x + ahead[0] * along + out[0] * off, y + ahead[1] * along + out[1] * off) for along, off in line]


def draw_band(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw a collar: a band over the bars it holds that stands a little proud of them."""
    ahead = heading(axes, panel.view)[0]
    low, high = _reaches(panel, note, axes, left_of(ahead))
    proud = note.feature.depth or 0.12 * (high - low)
    half = note.feature.length / 2
    band = [(-half, low - proud), (half, low - proud), (half, high + proud), (-half, high + proud)]
    draw_solid(panel, note, _placed(panel, axes, band, ahead), over=True)


# -- wraps -------------------------------------------------------------------------------------------


def draw_wrap(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw a wrap turn by turn: the near half of each, from one side of what it binds to the other.

    Of many turns or fine wire the ends alone, with chain lines between, as springs are drawn.
    """
    one = note.feature
    wire = one.depth
    if wire <= 0 or one.turns <= 0:
        draw_band(panel, note, axes)
        return
    ahead = heading(axes, panel.view)[0]
    low, high = _reaches(panel, note, axes, left_of(ahead))
    pitch = one.length / one.turns
    count = max(math.ceil(one.turns - 1e-6), 1)
    fine = wire * panel.plot.scale < _FINE * panel.sheet.letter
    shown = range(count)
    if count > _MANY or fine:
        shown = [*range(min(_SHOWN, count)), *range(max(count - _SHOWN, _SHOWN), count)]  # type: ignore[assignment]
        _draw_runs_on(panel, axes, ahead, (low - wire, high + wire), one.length / 2)
    kind = "over-outline" if note.new else "over-edge"
    for turn in shown:
        middle = -one.length / 2 + (turn + 0.5) * one.length / count
        ring = _strand(middle, (low - wire / 2, high + wire / 2), wire / 2, pitch / 4)
        for part in panel.plot.lines(_closed(_placed(panel, axes, ring, ahead))):
            panel.canvas.line("cover", part, closed=True)
            panel.canvas.line(kind, part)
            panel.metal.add(around(part))


def _strand(middle: float, ends: Spot, half: float, lean: float) -> Line:
    """Return the outline of half a turn: a round wire from one end to the other, leaning ahead."""
    low, high = ends
    ring: Line = []
    for sense, off in ((1, high), (-1, low)):
        centre = middle + sense * lean
        for step in range(_ROUND * 2 + 1):
            turn = math.pi * step / (_ROUND * 2)
            ring.append((centre + sense * half * math.cos(turn), off + sense * half * math.sin(turn)))
    return ring


def _draw_runs_on(panel: Panel, axes: Axes, ahead: Spot, ends: Spot, half: float) -> None:
    """Draw the chain lines that stand for turns left out."""
    for off in ends:
        line = _placed(panel, axes, [(-half, off), (half, off)], ahead)
        for part in panel.plot.lines(line):
            panel.canvas.line("centre", part)
            panel.metal.add(around(part))


def _closed(ring: Line) -> Line:
    return [*ring, ring[0]]


# -- heads, rivets, fillets --------------------------------------------------------------------------


def draw_head(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw a head set on the end of a branch: a dome beyond it, or a circle where the end is looked at."""
    one = note.feature
    if one.depth <= 0 or one.width <= 0:
        return
    at_start = one.at <= panel.pose.by_name[note.branch].branch.length / 2
    if abs(axes.ahead[panel.view.toward]) > _SEEN:
        _draw_round(panel, note, axes, (axes.left, axes.up))
        return
    ahead = heading(axes, panel.view)[0]
    out = (-ahead[0], -ahead[1]) if at_start else ahead
    draw_solid(panel, note, _placed(panel, axes, _dome(one.width / 2, one.depth, 0.0), out))


def draw_rivet(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the two heads of a loose rivet, on the outermost of the bars it holds."""
    one = note.feature
    if one.depth <= 0 or one.width <= 0:
        return
    pin = axes.up if one.face == "flat" else axes.left
    facing = abs(pin[panel.view.toward])
    if facing > _SEEN:
        _draw_round(panel, note, axes, (axes.ahead, axes.left if one.face == "flat" else axes.up))
        return
    x, y = pin[0], pin[panel.view.upward]
    far = math.hypot(x, y)
    for sense in (1, -1):
        out = (sense * x / far, sense * y / far)
        _, high = _reaches(panel, note, axes, out)
        draw_solid(panel, note, _placed(panel, axes, _dome(one.width / 2, one.depth, high), out))


def _dome(half: float, high: float, off: float) -> Line:
    """Return the outline of a round head so far off, told along its axis and across."""
    turns = (math.pi * step / _CORNERS for step in range(_CORNERS + 1))
    return [(off + high * math.sin(turn), half * math.cos(turn)) for turn in turns]


def _draw_round(
    panel: Panel, note: HoleNote, axes: Axes, plane: tuple[tuple[float, float, float], ...]
) -> None:
    """Draw a head as the reader sees it from above: a circle over what it closes."""
    half = note.feature.width / 2
    ring: Line = []
    for step in range(2 * _CORNERS):
        turn = math.pi * step / _CORNERS
        place = [
            o + half * (math.cos(turn) * a + math.sin(turn) * b)
            for o, a, b in zip(axes.origin, *plane, strict=True)
        ]
        ring.append(panel.view.flat((place[0], place[1], place[2])))
    draw_solid(panel, note, ring, over=True)


def draw_fillet(panel: Panel, note: HoleNote, axes: Axes) -> None:
    """Draw the hollow fillets round the end of a bar that was driven into another: a quarter round each."""
    one = note.feature
    at_start = one.at <= panel.pose.by_name[note.branch].branch.length / 2
    way, seen = heading(axes, panel.view)
    if seen < _SEEN:
        return
    back = way if at_start else (-way[0], -way[1])
    low, high = (reach / panel.plot.scale for reach in panel.edges(note.branch, one.at, left_of(back)))
    for sense, edge in ((1, high), (-1, low)):
        turns = (math.pi / 2 * step / _ROUND for step in range(_ROUND + 1))
        line = [
            (one.length * (1 - math.sin(turn)), edge + sense * one.length * (1 - math.cos(turn)))
            for turn in turns
        ]
        for part in panel.plot.lines(_placed(panel, axes, line, back)):
            panel.canvas.line("worked" if note.new else "outline", part)
            panel.metal.add(around(part))


def draw_solid(panel: Panel, note: HoleNote, ring: Line, *, over: bool = False) -> None:
    """Draw the outline of metal that stands on the bar, or lies `over` it, and keep words clear of it."""
    for part in panel.plot.lines(_closed(ring)):
        kind = "worked" if note.new else "outline"
        if over:
            panel.canvas.line("cover", part, closed=True)
        panel.canvas.line(f"over-{kind}" if over else kind, part)
        panel.metal.add(around(part))


STANDING: dict[str, Callable[[Panel, HoleNote, Axes], None]] = {
    "collar": draw_band,
    "wrap": draw_wrap,
    "head": draw_head,
    "rivet": draw_rivet,
    "fillet": draw_fillet,
}
