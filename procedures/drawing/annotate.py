"""Putting the notes of a drawing in their places: on the rail, in the tiers, or beside what they name."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from calculators.wording import UnitSystem
from procedures.engine.pieces.place import Span

from .callouts import Callouts
from .captions import curve_words
from .curve_notes import CurveNote
from .labels import Labels, Loose, times
from .lengths import Lengths
from .lettering import bare, spaced
from .notes import Notes
from .panel import Panel
from .rail import Rail
from .running import running
from .tiers import Tiers
from .views import Spot

_END_ON = 0.5  # of its length: metal seen shorter than that is seen end on
_MANY = 8  # angles that are given one by one


@dataclass
class Annotator:
    """The notes of one panel. What finds no place is added to `lost`, to be said below the drawing."""

    panel: Panel
    notes: Notes
    units: UnitSystem
    is_main: bool
    other: Panel | None = None  # the other view, where there is one
    lost: list[str] = field(default_factory=list)
    elsewhere: list[Loose] = field(default_factory=list)  # what the other view shows better
    unnamed: int = 0

    def __post_init__(self) -> None:
        sheet = self.panel.sheet
        self.size = sheet.letter
        low, high = sheet.margin, sheet.width - sheet.margin
        plot = self.panel.plot
        breaks = tuple((plot.across(first), plot.across(last)) for first, last in plot.cuts)
        self.rail = Rail(self.panel.canvas, low, high, 2 if sheet.is_small else 4, breaks)
        self.tiers = Tiers(self.panel.canvas, low, high)
        self.beside = Callouts(self.panel)

    def annotate(
        self,
        curves: Iterable[CurveNote],
        angles: Iterable[tuple[str, float]],
        more: Iterable[Loose] = (),
    ) -> None:
        """Place everything: first what has only one place, then what can go round it."""
        labels = Labels(self.panel, self.notes, self.units)
        lengths = Lengths(self.panel, self.notes, self.units)
        beside = list(curves)
        if self.is_main:
            level = [one for one in beside if one.kind == "twist" and self._is_level(one.span)]
            beside = [one for one in beside if one not in level]
            lengths.fill(self.tiers)
            self._draw_tiers(lengths.running)
            labels.fill(self.rail, level)
            self.rail.draw()
        self._angles(angles)
        if self.is_main:
            self._height()
        for span, words in lengths.slanting:
            self._slanting(span, words)
        for words, alike in self._alike(beside).items():
            if len(alike) > 2:
                self._curve(alike[0], times(len(alike), words))
            else:
                for curve in alike:
                    self._curve(curve, words)
        for one in [*labels.loose, *(self._here(one) for one in more)]:
            if self._is_better_elsewhere(one):
                self.elsewhere.append(one)
            elif not self.beside.leader(one.words, one.spots, arrow=False, kind=one.kind) and one.needed:
                self.lost.append(one.words)
        self.unnamed += labels.unnamed + lengths.unnamed

    def _is_better_elsewhere(self, one: Loose) -> bool:
        """Whether a place is on metal seen end on here, but not in the other view."""
        if self.other is None or one.place is None:
            return False
        return self.panel.way(*one.place)[1] < _END_ON < self.other.way(*one.place)[1]

    def _here(self, one: Loose) -> Loose:
        """Return a label of the other view with its place in this one."""
        assert one.place is not None
        return replace(one, spots=(self.panel.on(*one.place),), place=None)

    def _is_level(self, span: Span) -> bool:
        return self.panel.lies_along(span.branch, span.low, span.high)

    def _draw_tiers(self, runs: list[tuple[float, str]]) -> None:
        panel = self.panel
        foot = max((one[3] for one in (*panel.metal.boxes, *panel.ghost.boxes)), default=0.0)
        if runs:
            foot = running(panel.canvas, panel, runs, foot)
        self.tiers.draw(panel, foot, together=bool(runs))

    # -- beside ----------------------------------------------------------------------------------

    def _slanting(self, span: Span, words: str) -> None:
        """Give a length that does not lie along X: along the run where it is straight, else by a leader."""
        panel = self.panel
        posed = panel.pose.by_name[span.branch]
        straight = all(one.is_straight for one in posed.branch.segments_between(span.low, span.high))
        (x, y), seen = panel.way(span.branch, (span.low + span.high) / 2)
        if straight and seen > 0.999 and not panel.sheet.is_small:
            across = (y, x)
            reaches = [panel.edges(span.branch, at, across) for at in (span.low, span.high)]
            ends = [panel.on(span.branch, at) for at in (span.low, span.high)]
            low, high = min(one[0] for one in reaches), max(one[1] for one in reaches)
            if self.beside.aligned(words, ends[0], ends[1], low, high):
                return
        if not straight:
            words = f"{words} along"
        targets = [panel.on(span.branch, span.low + span.length * share) for share in (0.5, 0.3, 0.7)]
        if not self.beside.leader(words, targets, arrow=False, kind="strong"):
            self.lost.append(words)

    def _alike(self, curves: Iterable[CurveNote]) -> dict[str, list[CurveNote]]:
        found: dict[str, list[CurveNote]] = {}
        for one in curves:
            found.setdefault(curve_words(one, self.units), []).append(one)
        return found

    def _curve(self, curve: CurveNote, words: str) -> None:
        targets, toward = self._curve_targets(curve)
        if not self.beside.leader(words, targets, toward=toward, kind="strong"):
            self.lost.append(words)

    def _curve_targets(self, curve: CurveNote) -> tuple[list[Spot], Spot | None]:
        """Return where a leader may touch a curve, on its hollow side, and which way that side lies."""
        panel, span = self.panel, curve.span
        first, middle, last = (
            panel.on(span.branch, span.low + span.length * share) for share in (0.0, 0.5, 1.0)
        )
        chord = ((first[0] + last[0]) / 2 - middle[0], (first[1] + last[1]) / 2 - middle[1])
        far = math.hypot(*chord)
        if curve.kind not in ("bend", "corner") or far < 1:
            shares = (0.5, 0.3, 0.7, 0.1, 0.9)
            return [self._outer(curve, share) for share in shares], None
        toward = (chord[0] / far, chord[1] / far)
        targets = []
        for share in (0.5, 0.3, 0.7):
            at = span.low + span.length * share
            spot = panel.on(span.branch, at)
            _, high = panel.edges(span.branch, at, (toward[0], -toward[1]))
            targets.append((spot[0] + toward[0] * high, spot[1] + toward[1] * high))
        return targets, toward

    def _outer(self, curve: CurveNote, share: float) -> Spot:
        """Return a spot on the lower outline of a twist, or on the centre line of a scroll."""
        at = curve.span.low + curve.span.length * share
        x, y = self.panel.on(curve.span.branch, at)
        if curve.kind != "twist":
            return x, y
        low, _ = self.panel.edges(curve.span.branch, at)
        return x, y - low

    def _angles(self, angles: Iterable[tuple[str, float]]) -> None:
        told = [(branch, degrees) for branch, degrees in angles if abs(degrees) > 0.5]
        if len(told) > _MANY:
            spread = [spaced(self.units.angle(find(one for _, one in told))) for find in (min, max)]
            self.lost.append(f"{len(told)} angles from {spread[0]} to {spread[1]}")
            told = []
        for branch, degrees in {self._angle_key(*one): one for one in reversed(told)}.values():
            self._angle(branch, degrees)

    def _angle_key(self, branch: str, degrees: float) -> tuple[float, ...]:
        """Return what tells an angle from others: arms that lie on each other in a view have one."""
        (x, y), _ = self.panel.way(branch, 0.0)
        left, top = self.panel.on(branch, 0.0)
        return (round(degrees, 2), round(x, 3), round(y, 3), round(left, 1), round(top, 1))

    def _angle(self, branch: str, degrees: float) -> None:
        """Give the angle between an arm and the direction of its parent, where both lie in the view."""
        panel = self.panel
        posed = panel.pose.by_name[branch]
        attached = posed.branch.attached
        if attached is None or not posed.segments:
            return
        words = spaced(self.units.angle(abs(degrees)))
        parent = panel.pose.by_name[attached.parent]
        ends = {"start": 0.0, "end": parent.branch.length}
        at = ends[attached.at] if isinstance(attached.at, str) else attached.at
        (x, y), seen = panel.way(attached.parent, at)
        along, seen_too = panel.way(branch, 0.0)
        if attached.at == "start":
            x, y = -x, -y
        width = max(abs(one) for one in panel.edges(branch, 0.0, (along[1], along[0])))
        flat = seen > 0.99 and seen_too > 0.99
        if flat and self.beside.angle(words, panel.on(branch, 0.0), (x, y), along, width):
            return
        spots = [panel.on(branch, posed.branch.length * share) for share in (0.3, 0.6)]
        if not self.beside.leader(words, spots, kind="strong"):
            self.lost.append(words)

    def _height(self) -> None:
        """Give the height of a piece that does not lie along X, beside it."""
        panel = self.panel
        if not panel.seen.facets or all(
            panel.lies_along(one.branch.name, 0.0, one.branch.length) for one in panel.pose.branches
        ):
            return
        spots = [panel.plot.at(spot) for one in panel.seen.facets for spot in one.ring]
        _, low, _, high = panel.seen.box
        self.beside.height(bare(high - low, self.units), spots)
