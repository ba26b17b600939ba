"""The lengths of a drawing: those along X for the tiers, the whole length, and the distances of new marks."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from calculators.wording import UnitSystem
from procedures.engine.pieces.place import Span

from .labels import times
from .lettering import bare
from .notes import Notes
from .panel import Panel
from .tiers import Measure, Tiers

_MANY = 3  # new marks that get a dimension line each; more share one running from the start
_KNOWN = 0.1  # mm: a place nearer than this to an end or a mark is that
_MOST = 6  # dimension lines below one view


@dataclass
class Lengths:
    """The lengths of one panel.

    `slanting` are those that do not lie along X, `running` places on the sheet with their distance from the
    first of them, `unnamed` how many were left out.
    """

    panel: Panel
    notes: Notes
    units: UnitSystem
    slanting: list[tuple[Span, str]] = field(default_factory=list)
    running: list[tuple[float, str]] = field(default_factory=list)
    unnamed: int = 0

    def fill(self, tiers: Tiers) -> None:
        """Put what lies along X into the tiers."""
        if not self.panel.seen.facets:
            return
        whole = self._whole()
        found = self._worked()
        found = [one for one in found if abs(one.high - one.low - (whole.high - whole.low)) > 0.5]
        if len(found) > _MOST:
            self.unnamed += len(found) - _MOST
            found = found[:_MOST]
        tiers.place([*found, *self._offsets(), *self._marks(), whole])

    def _worked(self) -> list[Measure]:
        """Return the worked lengths along X, alike ones at one place together, and keep the slanting ones."""
        level: dict[tuple[float, float, str], list[Measure]] = {}
        slanting: dict[str, list[Span]] = {}
        for span in self.notes.lengths:
            words = bare(span.length, self.units)
            if self.panel.lies_along(span.branch, span.low, span.high):
                one = self._measure(span, words)
                level.setdefault((round(one.low, 1), round(one.high, 1), words), []).append(one)
            else:
                slanting.setdefault(words, []).append(span)
        self.slanting = [(spans[0], times(len(spans), words)) for words, spans in slanting.items()]
        return [
            replace(
                max(alike, key=lambda one: one.low_foot),
                words=times(len(alike), words),
                kind="strong",
            )
            for (_, _, words), alike in level.items()
        ]

    def _offsets(self) -> list[Measure]:
        """Return how far from the start the work begins, where neither an end nor a mark says so."""
        if self.panel.sheet.is_small:
            return []
        found: dict[float, Measure] = {}
        for span in self.notes.lengths:
            branch = self.notes.piece.branch(span.branch)
            known = [0.0, branch.length, *(one.at for one in branch.marks)]
            told = any(abs(at - end) < _KNOWN for at in known for end in (span.low, span.high))
            if not told and self.panel.lies_along(span.branch, 0.0, span.high):
                one = self._measure(Span(span.branch, 0.0, span.low), bare(span.low, self.units))
                found.setdefault(round(one.high, 1), one)
        return list(found.values())[:_MANY]

    def _measure(self, span: Span, words: str) -> Measure:
        ends = sorted(
            (self.panel.on(span.branch, at)[0], self._foot(span.branch, at)) for at in (span.low, span.high)
        )
        return Measure(ends[0][0], ends[1][0], words, ends[0][1], ends[1][1])

    def _foot(self, branch: str, at: float) -> float:
        """Return the height of the lower outline of a branch there."""
        low, _ = self.panel.edges(branch, at)
        return self.panel.on(branch, at)[1] - low

    def _whole(self) -> Measure:
        """Return the whole length of the piece as it lies."""
        panel = self.panel
        left, _, right, _ = panel.seen.box
        spots = [panel.plot.at(spot) for one in panel.seen.facets for spot in one.ring]
        low, high = panel.plot.across(left), panel.plot.across(right)
        low_foot = max(y for x, y in spots if x < low + 0.5)
        high_foot = max(y for x, y in spots if x > high - 0.5)
        kind = "text" if self.notes.lengths or not self._is_longer(right - left) else "strong"
        words = bare(right - left, self.units)
        return Measure(low, high, words, low_foot, high_foot, outermost=True, kind=kind)  # type: ignore[arg-type]

    def _is_longer(self, now: float) -> bool:
        before = self.notes.before
        level = self.panel.lies_along(self.notes.piece.root.name, 0.0, self.notes.piece.root.length)
        return before is not None and level and abs(before.root.length - now) > 0.05

    def _new_places(self) -> list[tuple[str, float]]:
        """Return (branch, at) of the marks and holes this step made in metal that lies along X."""
        places = [(one.branch, one.at) for one in self.notes.marks if one.new]
        places += [
            (one.branch, one.feature.at) for one in self.notes.holes if one.new and one.feature.is_hole
        ]
        return [one for one in places if one[1] > 0 and self.panel.lies_along(one[0], 0.0, one[1])]

    def _marks(self) -> list[Measure]:
        """Return the distances of new marks and holes: a line each for a few, `running` for more."""
        new = self._new_places()
        few = 1 if self.panel.sheet.is_small else _MANY
        if len(new) <= few:
            return [
                replace(self._measure(Span(branch, 0.0, at), bare(at, self.units)), kind="strong")
                for branch, at in new
            ]
        branch = new[0][0]
        places = [(branch, 0.0)] + [one for one in new if one[0] == branch]
        self.running = [(self.panel.on(*one)[0], bare(one[1], self.units)) for one in places]
        return []
