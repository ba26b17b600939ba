"""From millimetres to the sheet: one scale and one datum for all drawings of a part, long plain runs broken.

A break takes the same stretch of X, or of the heights of a view, out of every drawing of the part, and only
where the bar is plain or absent in all of them; so everything else stays true to scale and in line down the
page.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from .reach import Reach, Stretch
from .sheet import Sheet
from .views import Line, Spot

# The scales of ISO 5455, and those between them that fill a sheet better: true size for one on the sheet.
_REDUCED = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 500, 1000)
_RATIOS: tuple[tuple[float, float], ...] = ((2, 1), *((1, true) for true in _REDUCED))
_SMALL_BAR = 6.0  # mm: only a bar thinner than this is drawn larger than it is


@dataclass(frozen=True)
class Plot:
    """How X and the heights of the views come onto the sheet.

    `cuts` are the stretches of X that are left out, `rows` those of the heights of the view it is for.
    """

    scale: float  # sheet units for a millimetre
    ratio: str
    low: float  # the least X there is [mm]
    high: float
    left: float  # where that comes on the sheet
    cuts: tuple[Stretch, ...] = ()
    gap: float = 0.0
    rows: tuple[Stretch, ...] = ()
    rows_of: Mapping[str, tuple[Stretch, ...]] = field(default_factory=dict)

    def view(self, name: str) -> Plot:
        """Return the plot of one view."""
        return replace(self, rows=self.rows_of.get(name, ()))

    def across(self, x: float) -> float:
        """Return where an X [mm] comes on the sheet."""
        whole = self.left + (x - self.low) * self.scale
        return whole - self._taken(self.cuts, self.low, x) if self.cuts else whole

    def down(self, height: float) -> float:
        """Return how far below the X axis a height of the view [mm] comes on the sheet."""
        if not self.rows:
            return -height * self.scale
        taken = self._taken(self.rows, min(height, 0.0), max(height, 0.0))
        return math.copysign(taken, height) - height * self.scale

    def at(self, spot: Spot) -> Spot:
        """Return where a spot of the view [mm] comes on the sheet."""
        return self.across(spot[0]), self.down(spot[1])

    def _taken(self, cuts: tuple[Stretch, ...], low: float, high: float) -> float:
        """Return how much shorter breaks make the stretch from `low` to `high` on the sheet."""
        taken = 0.0
        for first, last in cuts:
            inside = min(high, last) - max(low, first)
            if inside > 0:
                taken += inside * (self.scale - self.gap / (last - first))
        return taken

    def is_cut(self, spot: Spot) -> bool:
        """Whether a spot of the view [mm] lies in a stretch that is left out."""
        return any(
            low < value < high
            for value, cuts in zip(spot, (self.cuts, self.rows), strict=True)
            for low, high in cuts
        )

    @property
    def right(self) -> float:
        """Where the greatest X there is comes on the sheet."""
        return self.across(self.high)

    def lines(self, line: Line) -> list[Line]:
        """Return a line of a view [mm] on the sheet, its heights negated; in parts where a break cuts it."""
        if not self.cuts and not self.rows:
            return [[self.at(spot) for spot in line]] if len(line) > 1 else []
        pieces: list[Line] = [[]]
        for index, spot in enumerate(line):
            if index:
                self._cross(line[index - 1], spot, 0, self.cuts, pieces)
                self._cross(line[index - 1], spot, 1, self.rows, pieces)
            pieces[-1].append(self.at(spot))
        return [one for one in pieces if len(one) > 1]

    def _cross(
        self, first: Spot, second: Spot, axis: int, cuts: tuple[Stretch, ...], pieces: list[Line]
    ) -> None:
        """Part the line at every break between two of its spots."""
        rise = second[axis] - first[axis]
        for low, high in cuts if rise > 0 else cuts[::-1]:
            if min(first[axis], second[axis]) <= low and max(first[axis], second[axis]) >= high:
                near, far = (low, high) if rise > 0 else (high, low)
                for edge in (near, far):
                    share = (edge - first[axis]) / rise
                    spot = self.at(
                        (first[0] + (second[0] - first[0]) * share, first[1] + (second[1] - first[1]) * share)
                    )
                    if edge == far:
                        pieces.append([])
                    pieces[-1].append(spot)


def plot(sheet: Sheet, reaches: Sequence[Reach], thin: float, gutter: float) -> Plot:
    """Return the one plot for all these poses of a bar that is about `thin` mm thick.

    The largest scale at which everything goes on the sheet unbroken; where the bar would look too thin at
    that, a larger one with breaks. `gutter` is kept free on the right.
    """
    low, high = min(one.low for one in reaches), max(one.high for one in reaches)
    tall = max(top - bottom for one in reaches for bottom, top in one.heights.values())
    room = sheet.width - 2 * sheet.margin - gutter
    scale, ratio = _largest(sheet, high - low, tall, room, thin)
    found: Plot | None = None
    if scale * thin < sheet.legible:
        found = _broken(sheet, (low, high), reaches, room, thin)
    return found or Plot(scale, ratio, low, high, sheet.margin, gap=_gap(sheet))


def _gap(sheet: Sheet) -> float:
    return sheet.letter * 0.45


def _largest(sheet: Sheet, wide: float, tall: float, room: float, thin: float) -> tuple[float, str]:
    for drawn, true in _RATIOS:
        scale = sheet.mm * drawn / true
        if drawn > true and thin > _SMALL_BAR:
            continue
        if scale * wide <= room and scale * tall <= sheet.tallest:
            return scale, f"{drawn:g}:{true:g}"
    scale = min(room / wide, sheet.tallest / tall if tall > 0 else room / wide)
    return scale, f"1:{sheet.mm / scale:.0f}"


def _broken(sheet: Sheet, whole: Stretch, reaches: Sequence[Reach], room: float, thin: float) -> Plot | None:
    """Return the largest scale that goes on the sheet with breaks, and these; None where none help."""
    busy = [stretch for one in reaches for stretch in one.busy]
    for drawn, true in _RATIOS:
        scale = sheet.mm * drawn / true
        if scale * thin > 1.6 * sheet.legible:
            continue
        pad, gap = 1.1 * sheet.letter / scale, _gap(sheet)
        cuts = _cuts(_plain(whole, busy, pad), scale * (whole[1] - whole[0]) - room, scale, gap)
        if cuts is None:
            continue
        made = Plot(scale, f"{drawn:g}:{true:g}", *whole, sheet.margin, cuts, gap)
        rows = {name: _rows(made, reaches, name, pad, sheet.tallest) for name in reaches[0].heights}
        if all(one is not None for one in rows.values()):
            return replace(made, rows_of={name: one for name, one in rows.items() if one is not None})
    return None


def _rows(
    made: Plot, reaches: Sequence[Reach], view: str, pad: float, tallest: float
) -> tuple[Stretch, ...] | None:
    """Return the breaks in the heights of a view that let every pose go on the sheet, or None."""
    heights = [one.heights[view] for one in reaches]
    excess = made.scale * max(top - low for low, top in heights) - tallest
    if excess <= 0:
        return ()
    whole = min(low for low, _ in heights), max(top for _, top in heights)
    busy = [stretch for one in reaches for stretch in one.busy_heights.get(view, (whole,))]
    cuts = _cuts(_plain(whole, busy, pad), excess, made.scale, made.gap)
    if cuts is None:
        return None
    plotted = replace(made, rows=cuts)
    fits = all(plotted.down(low) - plotted.down(top) <= tallest + 1e-6 for low, top in heights)
    return cuts if fits else None


def _plain(whole: Stretch, busy: list[Stretch], pad: float) -> list[Stretch]:
    """Return the stretches of X that nothing busy comes near, longest first."""
    found = []
    at = whole[0]
    for low, high in sorted(busy):
        if low - pad > at:
            found.append((at, low - pad))
        at = max(at, high + pad)
    if whole[1] > at:
        found.append((at, whole[1]))
    return sorted(found, key=lambda one: one[0] - one[1])


def _cuts(plain: list[Stretch], excess: float, scale: float, gap: float) -> tuple[Stretch, ...] | None:
    """Return breaks that take off `excess` sheet units, or None where there is not so much plain run.

    The longest runs are all shortened to one length, so that none looks longer than a longer one.
    """
    lengths = [(high - low) * scale for low, high in plain]
    if excess <= 0:
        return ()
    for count in range(1, len(plain) + 1):
        left = (sum(lengths[:count]) - excess - count * gap) / count
        following = lengths[count] if count < len(lengths) else 0.0
        if left >= min(following, lengths[count - 1] - 2 * gap) or (count == len(plain) and left >= 0):
            break
    else:
        return None
    cuts = []
    for (low, high), long in zip(plain[:count], lengths, strict=False):
        kept = min(max(left, 0.0), long - 2 * gap)
        if kept < 0:
            return None
        middle, half = (low + high) / 2, (long - kept) / scale / 2
        cuts.append((middle - half, middle + half))
    return tuple(sorted(cuts))
