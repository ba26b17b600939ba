"""A detail: a run too short to be read at the scale of its drawing, to be drawn again beside it and larger.

In the manner of ISO 128-3: a thin circle round the place with a capital letter, and what is in it drawn in a
circle of its own, with the letter and its scale over it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span

from .callouts import Callouts
from .notes import Notes
from .panel import Panel
from .plot import Plot
from .room import around
from .sheet import Sheet
from .views import Spot

_SHORT, _SHORT_SMALL = 1.3, 0.9  # letters: a worked run that comes out shorter is drawn again
_LEAST = 0.2  # mm: a run shorter than this is a place
_RADIUS = 2.9  # letters, of the circle that it is drawn in, at the most
_LARGER = 2.0  # times, at the least: else it would tell no more
_RATIOS: tuple[tuple[float, float], ...] = (
    *((drawn, 1) for drawn in (20, 10, 5, 2, 1)),
    *((1, true) for true in (1.5, 2, 2.5, 3, 4, 5, 10, 20)),
)
_LETTERS = "XYZWVU"
_SIDE = 0.15  # of a run: so far beyond its ends its sides are looked at too
_DEEP = 1.25  # times its length: of a bar thicker than that, only so much is shown
_MATES = 1.6  # times the circle round a run where something was joined to it


def short_run(notes: Notes, plot: Plot, sheet: Sheet) -> Span | None:
    """Return the worked run to be drawn again, the first of several alike; None where all are long enough."""
    if notes.cuts or not notes.worked:
        return None
    runs = _joined(notes.worked)
    longest = max(one.length for one in runs)
    short = _SHORT_SMALL if sheet.is_small else _SHORT
    if longest < _LEAST or longest * plot.scale >= short * sheet.letter:
        return None
    return next(one for one in runs if one.length > 0.9 * longest)


def _joined(spans: Sequence[Span]) -> list[Span]:
    """Return the spans, those that follow on each other as one."""
    runs: list[Span] = []
    for one in spans:
        last = runs[-1] if runs else None
        if last and last.branch == one.branch and abs(one.low - last.high) < _LEAST:
            runs[-1] = Span(one.branch, last.low, one.high)
        else:
            runs.append(one)
    return runs


@dataclass(frozen=True)
class Detail:
    """What of a panel is drawn again: a circle of its view [mm], and the scale and letter it is given."""

    panel: Panel
    centre: Spot
    radius: float
    scale: float  # sheet units for a millimetre
    ratio: str
    letter: str
    sheet: Sheet  # with the line weights that become its scale

    @property
    def size(self) -> float:
        """The radius of its circle on the sheet."""
        return self.radius * self.scale

    @property
    def title(self) -> str:
        """What is written over it."""
        return f"{self.letter} ({self.ratio})"

    @property
    def spot(self) -> Spot:
        """Where the circle round the place lies on its panel."""
        return self.panel.plot.at(self.centre)

    def encircle(self) -> None:
        """Draw the circle round the place, and keep what is written above and below the view clear of it."""
        (x, y), radius = self.spot, self.radius * self.panel.plot.scale
        self.panel.canvas.circle("dim", (x, y), radius)
        self.panel.metal.add((x - radius, y - radius, x + radius, y + radius))

    def name_it(self) -> bool:
        """Write the letter at the circle; where there is no room for it, take the circle back."""
        (x, y), radius = self.spot, self.radius * self.panel.plot.scale
        turns = [math.radians(15 + 30 * step) for step in range(12)]
        spots = [(x + radius * math.cos(turn), y - radius * math.sin(turn)) for turn in turns]
        if Callouts(self.panel).leader(self.letter, spots, arrow=None, kind="strong"):
            return True
        self.panel.canvas.circles["dim"].remove(((x, y), radius))
        return False


def detail_of(panels: Sequence[Panel], run: Span, notes: Notes, sheet: Sheet) -> Detail | None:
    """Return the detail of a run in the view that shows its shape best; None where it would be no larger."""
    panel = max(panels, key=lambda one: _tells(one, run, notes))
    plot = panel.plot
    centre, radius = _window(panel, run)
    if notes.before is not None and notes.piece.joints != notes.before.joints:
        radius *= _MATES  # what was joined lies on both sides of the run
    fitting = (
        (sheet.mm * drawn / true, f"{drawn:g}:{true:g}")
        for drawn, true in _RATIOS
        if sheet.mm * drawn / true * radius <= _RADIUS * sheet.letter
    )
    scale, ratio = next(fitting, (0.0, ""))
    centre = centre[0] + _inward(plot.across(centre[0]), radius * plot.scale, sheet) / plot.scale, centre[1]
    if scale < _LARGER * plot.scale or plot.is_cut(centre):
        return None
    taken = {one.name.upper() for one in notes.marks} | {one.feature.name.upper() for one in notes.holes}
    letter = next((one for one in _LETTERS if one not in taken), _LETTERS[0])
    section = notes.piece.branch(run.branch).section_at((run.low + run.high) / 2)
    weighted = sheet.for_bars(min(section.width, section.thickness) * scale)
    return Detail(panel, centre, radius, scale, ratio, letter, weighted)


def _inward(x: float, radius: float, sheet: Sheet) -> float:
    """Return by how much a circle has to move along the sheet to stay on it."""
    margin = sheet.margin / 2
    return max(margin + radius - x, 0.0) - max(x + radius - (sheet.width - margin), 0.0)


def _tells(panel: Panel, run: Span, notes: Notes) -> float:
    """Return how much of the shape of a run is seen in a view: its bend, its holes, how its sides move."""
    _, seen = panel.way(run.branch, (run.low + run.high) / 2)
    sides = [panel.edges(run.branch, at, _across(panel, run, at)) for at in _places(panel, run)]
    lows, highs = zip(*sides, strict=True)
    moved = (max(lows) - min(lows) + max(highs) - min(highs)) / panel.plot.scale
    (first, _), (last, _) = (panel.way(run.branch, at) for at in (run.low, run.high))
    moved += run.length * math.hypot(last[0] - first[0], last[1] - first[1])
    for one in notes.holes:
        if one.new and one.branch == run.branch and run.low <= one.feature.at <= run.high:
            axes = panel.axes(one.branch, one.feature.at)
            through = axes.up if one.feature.face == "flat" else axes.left
            facing = abs(through[panel.view.toward])  # a hole is looked into, a head from the side
            moved += one.feature.length * (facing if one.feature.is_hole else 1 - facing)
    mates = [panel.way(*place)[1] for place in _mates(notes.piece, run)]
    moved += run.length * max(mates, default=0.0)
    return float(seen * moved + (0.0 if panel.is_side else 0.05))


def _mates(piece: Piece, run: Span) -> Iterator[tuple[str, float]]:
    """Yield (branch, at) of what is joined to a run."""
    for joint in piece.joints:
        if any(run.low <= at <= run.high for at in joint.on(run.branch)):
            yield from ((one.branch, one.at) for one in joint.places if one.branch != run.branch)


def _places(panel: Panel, run: Span) -> list[float]:
    beyond = _SIDE * run.length
    length = panel.pose.by_name[run.branch].branch.length
    shares = (0.01, 0.25, 0.5, 0.75, 0.99)
    places = [run.low - beyond, *(run.low + run.length * share for share in shares), run.high + beyond]
    return [min(max(at, 0.0), length) for at in places]


def _across(panel: Panel, run: Span, at: float) -> Spot:
    """Return the unit vector of the view square to a branch there."""
    (x, y), _ = panel.way(run.branch, at)
    return y, x


def _window(panel: Panel, run: Span) -> tuple[Spot, float]:
    """Return the middle and the radius [mm] of the circle that holds a run with some of what it stands on."""
    most = _DEEP * run.length
    spots = []
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        at = run.low + run.length * share
        x, y = panel.view.flat(panel.axes(run.branch, at).origin)
        across = _across(panel, run, at)
        for far in panel.edges(run.branch, at, across):
            off = max(min(far / panel.plot.scale, most), -most)
            spots.append((x + across[0] * off, y + across[1] * off))
    left, foot, right, top = around(spots)
    return ((left + right) / 2, (foot + top) / 2), 0.58 * math.hypot(right - left, top - foot)
