"""Patterns on a surface, and the lines beside a run that show how far it was hardened or tempered.

A treated run has a wide long-dashed dotted line outside its outline, as ISO 15787 has it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from .linework import thin_boxes
from .notes import Notes
from .skin import SkinNote
from .views import Spot, heading, left_of

if TYPE_CHECKING:
    from .panel import Panel

_JUST = 1e-3  # mm beyond a step
_STEP = 0.8  # letters from one mark of a pattern to the next
_MOST = 26  # marks of a pattern along one run
_OFF = 0.34  # letters from an outline to the line of a treatment
_SHORT = 0.5  # of that: how far before the end of its run it ends, so that neighbours stay apart
_FLAT = 1.3  # a section so many times wider than thick bears its pattern on its face alone
_SEEN = 0.6  # of its length: a run seen shorter than that bears no pattern
_ROOM = 0.4  # letters: a bar that comes out thinner has no room for a pattern

Along = tuple[float, float]  # mm along a branch, and across it: 1 its left outline, -1 its right


def beside(panel: Panel, branch: str, at: float, across: float, more: float = 0.0) -> Spot:
    """Return a spot of the view [mm]: `across` 1 on a bar's left outline, -1 its right, `more` mm outside."""
    axes = panel.axes(branch, at)
    out = left_of(heading(axes, panel.view)[0])
    low, high = (reach / panel.plot.scale for reach in panel.edges(branch, at, out))
    off = (low + high) / 2 + across * ((high - low) / 2 + more)
    x, y = panel.view.flat(axes.origin)
    return x + out[0] * off, y + out[1] * off


def stations_between(panel: Panel, branch: str, low: float, high: float) -> list[float]:
    """Return the places on a branch that a line along it has to pass [mm], both sides of a step too."""
    places = {low, high}
    for posed in panel.pose.by_name[branch].segments:
        places |= {one.at for one in posed.stations if low < one.at < high}
        if low < posed.low < high - _JUST:
            places.add(posed.low + _JUST)
    return sorted(places)


# -- treatments --------------------------------------------------------------------------------------


def draw_treatments(panel: Panel, notes: Notes) -> None:
    """Draw the line of every treated run, and keep words clear of it."""
    off = _OFF * panel.sheet.letter / panel.plot.scale
    for one in notes.skins:
        if not one.treatment:
            continue
        short = min(_SHORT * off, 0.1 * (one.high - one.low))
        line = [
            beside(panel, one.branch, at, 1.0, off)
            for at in stations_between(panel, one.branch, one.low + short, one.high - short)
        ]
        for part in panel.plot.lines(line):
            panel.canvas.line("zone", part)
            panel.metal.add(*thin_boxes(part, 0.08 * panel.sheet.letter))


def treatment_spot(panel: Panel, one: SkinNote) -> Spot:
    """Return the middle of the line of a treated run, on the sheet."""
    off = _OFF * panel.sheet.letter / panel.plot.scale
    return panel.plot.at(beside(panel, one.branch, (one.low + one.high) / 2, 1.0, off))


# -- patterns ----------------------------------------------------------------------------------------


def draw_patterns(panel: Panel, notes: Notes) -> None:
    """Draw the patterns on the faces that are turned to the reader."""
    for one in notes.skins:
        if one.pattern and _is_shown(panel, one):
            for line in _BY_NAME.get(one.pattern, _ticks)(panel, one):
                _draw(panel, one, line)


def _is_shown(panel: Panel, one: SkinNote) -> bool:
    middle = (one.low + one.high) / 2
    axes = panel.axes(one.branch, middle)
    section = panel.pose.by_name[one.branch].branch.section_at(middle)
    flat = section.width > _FLAT * section.thickness
    if flat and abs(axes.up[panel.view.toward]) < _SEEN:
        return False
    return _wide(panel, one) > _ROOM * panel.sheet.letter


def _wide(panel: Panel, one: SkinNote) -> float:
    """Return how wide the run comes out on the sheet at its middle."""
    middle = (one.low + one.high) / 2
    out = left_of(heading(panel.axes(one.branch, middle), panel.view)[0])
    low, high = panel.edges(one.branch, middle, out)
    return high - low


def _draw(panel: Panel, one: SkinNote, line: list[Along]) -> None:
    inside = [(min(max(at, one.low), one.high), across) for at, across in line]
    if any(heading(panel.axes(one.branch, at), panel.view)[1] < _SEEN for at, _ in inside):
        return
    spots = [beside(panel, one.branch, at, across) for at, across in inside]
    if any(map(panel.plot.is_cut, spots)):
        return
    for part in panel.plot.lines(spots):
        panel.canvas.line("pattern", part)


def _places(panel: Panel, one: SkinNote, pitch: float = 1.0) -> tuple[list[float], float]:
    """Return places evenly along what is shown of a run, and how far apart they lie [mm]."""
    long = one.high - one.low
    shown = long
    if panel.lies_along(one.branch, one.low, one.high):
        (left, _), (right, _) = (panel.on(one.branch, at) for at in (one.low, one.high))
        shown = abs(right - left) / panel.plot.scale
    step = max(_STEP * pitch * panel.sheet.letter / panel.plot.scale, shown / _MOST)
    count = max(int(long / step), 1)
    step = long / count
    places = [one.low + (index + 0.5) * step for index in range(count)]
    return [at for at in places if not panel.plot.is_cut(beside(panel, one.branch, at, 0.0))], step


def _rows(panel: Panel, one: SkinNote) -> tuple[float, ...]:
    """Return where rows of marks lie across a run: one, two or three, as there is room."""
    letters = _wide(panel, one) / panel.sheet.letter
    return (0.0,) if letters < 0.8 else (-0.45, 0.45) if letters < 1.8 else (-0.6, 0.0, 0.6)


def _straight(panel: Panel, one: SkinNote, across: float) -> list[Along]:
    return [(at, across) for at in stations_between(panel, one.branch, one.low, one.high)]


def _veins(panel: Panel, one: SkinNote) -> Iterator[list[Along]]:
    yield _straight(panel, one, 0.0)
    places, step = _places(panel, one)
    long = panel.pose.by_name[one.branch].branch.length
    way = 1 if one.low + one.high > long else -1
    for at in places[:: 1 if len(places) < _MOST else 2]:
        for side in (-0.72, 0.72):
            yield [(at - way * 0.4 * step, 0.0), (at + way * 0.4 * step, side)]


def _lines(panel: Panel, one: SkinNote) -> Iterator[list[Along]]:
    for across in (-0.5, 0.0, 0.5):
        yield _straight(panel, one, across)


def _crossed(panel: Panel, one: SkinNote) -> Iterator[list[Along]]:
    half = _wide(panel, one) / panel.plot.scale / 2
    for at in _places(panel, one)[0]:
        for way in (-0.8, 0.8):
            yield [(at - half * way, -0.8), (at, 0.0), (at + half * way, 0.8)]


def _hammered(panel: Panel, one: SkinNote) -> Iterator[list[Along]]:
    """The near rim of each hollow, its rows staggered."""
    places, step = _places(panel, one, 1.2)
    high = 0.3 * step * panel.plot.scale * 2 / _wide(panel, one)
    for row, across in enumerate(_rows(panel, one)):
        for at in places:
            middle = at + (0.25 if row % 2 else -0.25) * step
            yield [
                (middle - 0.3 * step * math.cos(turn), across - high * math.sin(turn))
                for turn in (math.pi * part / 4 for part in range(5))
            ]


def _bark(panel: Panel, one: SkinNote) -> Iterator[list[Along]]:
    places, step = _places(panel, one, 1.6)
    for row, across in enumerate((-0.66, -0.22, 0.22, 0.66)):
        for index, at in enumerate(places):
            begin = at - 0.5 * step + (0.45 if row % 2 else 0.0) * step
            sway = 0.14 if (row + index) % 2 else -0.14
            yield [(begin, across), (begin + 0.35 * step, across + sway), (begin + 0.75 * step, across)]


def _stamped(panel: Panel, one: SkinNote) -> Iterator[list[Along]]:
    places, step = _places(panel, one, 1.3)
    high = min(0.25 * step * panel.plot.scale * 2 / _wide(panel, one), 0.6)
    for at in places:
        side = 0.25 * step
        yield [(at - side, 0.0), (at, high), (at + side, 0.0), (at, -high), (at - side, 0.0)]


def _ticks(panel: Panel, one: SkinNote) -> Iterator[list[Along]]:
    places, step = _places(panel, one)
    for row, across in enumerate(_rows(panel, one)):
        for at in places:
            middle = at + (0.25 if row % 2 else -0.25) * step
            yield [(middle - 0.15 * step, across - 0.12), (middle + 0.15 * step, across + 0.12)]


_BY_NAME: dict[str, Callable[[Panel, SkinNote], Iterator[list[Along]]]] = {
    "veins": _veins,
    "lines": _lines,
    "crossed": _crossed,
    "hammered": _hammered,
    "bark": _bark,
    "stamped": _stamped,
}
