"""From millimetres to the sheet: one scale and one datum for all drawings of a part, long plain runs broken.

A break takes the same stretch of X out of every drawing of the part, and only where the bar is plain or
absent in all of them; so everything else stays true to scale and in line down the page.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import Pose, PosedBranch, PosedSegment

from .sheet import Sheet
from .views import Line, View, half_depth

Stretch = tuple[float, float]

# The scales of ISO 5455, and those between them that fill a sheet better: true size for one on the sheet.
_REDUCED = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 500, 1000)
_RATIOS: tuple[tuple[float, float], ...] = ((2, 1), *((1, true) for true in _REDUCED))
_SMALL_BAR = 6.0  # mm: only a bar thinner than this is drawn larger than it is


@dataclass(frozen=True)
class Reach:
    """What one pose takes up [mm].

    X from `low` to `high`; by view the heights of its metal and of its centre lines; and what of X is busy.
    """

    low: float
    high: float
    heights: dict[str, Stretch]
    middles: dict[str, Stretch]
    busy: tuple[Stretch, ...]


@dataclass(frozen=True)
class Plot:
    """How X and the heights of the views come onto the sheet."""

    scale: float  # sheet units for a millimetre
    ratio: str
    low: float  # the least X there is [mm]
    high: float
    left: float  # where that comes on the sheet
    cuts: tuple[Stretch, ...] = ()
    gap: float = 0.0

    def across(self, x: float) -> float:
        """Return where an X [mm] comes on the sheet."""
        taken = 0.0
        for low, high in self.cuts:
            if x >= high:
                taken += (high - low) * self.scale - self.gap
            elif x > low:
                taken += (x - low) * self.scale - self.gap * (x - low) / (high - low)
        return self.left + (x - self.low) * self.scale - taken

    def is_cut(self, x: float) -> bool:
        """Whether an X [mm] lies in a stretch that is left out."""
        return any(low < x < high for low, high in self.cuts)

    @property
    def right(self) -> float:
        """Where the greatest X there is comes on the sheet."""
        return self.across(self.high)

    def lines(self, line: Line) -> list[Line]:
        """Return a line of a view [mm] on the sheet, its heights negated; in parts where a break cuts it."""
        pieces: list[Line] = [[]]
        for index, (x, y) in enumerate(line):
            if index:
                self._cross(line[index - 1], (x, y), pieces)
            pieces[-1].append((self.across(x), -y * self.scale))
        return [one for one in pieces if len(one) > 1]

    def _cross(self, first: tuple[float, float], second: tuple[float, float], pieces: list[Line]) -> None:
        """Part the line at every break between two of its spots."""
        rise = second[0] - first[0]
        cuts = self.cuts if rise > 0 else self.cuts[::-1]
        for low, high in cuts:
            if min(first[0], second[0]) <= low and max(first[0], second[0]) >= high:
                near, far = (low, high) if rise > 0 else (high, low)
                for edge in (near, far):
                    y = first[1] + (second[1] - first[1]) * (edge - first[0]) / rise
                    spot = (self.across(edge), -y * self.scale)
                    if edge == near:
                        pieces[-1].append(spot)
                        pieces.append([])
                    else:
                        pieces[-1].append(spot)


def reach_of(pose: Pose, views: Iterable[View], spans: Iterable[Span] = ()) -> Reach:
    """Return what a posed piece takes up."""
    xs: list[float] = []
    heights: dict[str, list[float]] = {view.name: [] for view in views}
    middles: dict[str, list[float]] = {view.name: [] for view in views}
    busy: list[Stretch] = []
    for branch in pose.branches:
        for posed in branch.segments:
            low, high = _x_of(posed)
            xs += (low, high)
            for view in views:
                heights[view.name] += _heights(posed, view)
                middles[view.name] += [one.axes.origin[view.upward] for one in posed.stations]
        busy += _busy(branch)
    busy += [(x, x) for span in spans for x in _ends(pose, span)]
    return Reach(
        min(xs, default=0.0),
        max(xs, default=0.0),
        _least_and_most(heights),
        _least_and_most(middles),
        tuple(busy),
    )


def _least_and_most(spread: dict[str, list[float]]) -> dict[str, Stretch]:
    return {name: (min(found), max(found)) if found else (0.0, 0.0) for name, found in spread.items()}


def _ends(pose: Pose, span: Span) -> list[float]:
    branch = pose.by_name.get(span.branch)
    return [branch.axes_at(at).origin[0] for at in (span.low, span.high)] if branch else []


def _x_of(posed: PosedSegment) -> Stretch:
    spread = [
        one.axes.origin[0]
        + sign * _half_x(one.axes.left[0], one.axes.up[0], one.section.width, one.section.thickness)
        for one in posed.stations
        for sign in (-1, 1)
    ]
    return min(spread), max(spread)


def _half_x(left: float, up: float, width: float, thickness: float) -> float:
    return abs(left) * width / 2 + abs(up) * thickness / 2


def _heights(posed: PosedSegment, view: View) -> list[float]:
    other = View(view.name, view.title, view.toward, view.upward, 1, view.plane)
    spread = []
    for one in posed.stations:
        half = half_depth(one.section, one.axes, other)
        middle = one.axes.origin[view.upward]
        spread += [middle - half, middle + half]
    return [min(spread), max(spread)]


def _busy(branch: PosedBranch) -> list[Stretch]:
    """Return the stretches of X on which a branch is anything but plain bar along X."""
    found: list[Stretch] = []
    for index, posed in enumerate(branch.segments):
        low, high = _x_of(posed)
        if not _is_plain(posed):
            found.append((low, high))
            continue
        before = branch.segments[index - 1] if index else None
        if (
            before is None
            or before.segment.end != posed.segment.start
            or before.segment.shift != posed.segment.shift
        ):
            found.append((posed.start.origin[0],) * 2)
    if branch.segments:
        found.append((branch.end.origin[0],) * 2)
    found += [(branch.axes_at(mark.at).origin[0],) * 2 for mark in branch.branch.marks]
    for one in branch.branch.features:
        x = branch.axes_at(one.at).origin[0]
        found.append((x - one.length - one.bulge, x + one.length + one.bulge))
    found.append((branch.start.origin[0],) * 2)
    return found


def _is_plain(posed: PosedSegment) -> bool:
    segment = posed.segment
    return segment.is_straight and segment.is_even and abs(posed.start.ahead[0]) > 1 - 1e-9


def plot(sheet: Sheet, reaches: Sequence[Reach], thin: float, gutter: float) -> Plot:
    """Return the one plot for all these poses of a bar that is about `thin` mm thick.

    The largest scale at which everything goes on the sheet unbroken; where the bar would look too thin at
    that, a larger one with breaks. `gutter` is kept free on the right.
    """
    low, high = min(one.low for one in reaches), max(one.high for one in reaches)
    tall = max(top - bottom for one in reaches for bottom, top in one.heights.values())
    room = sheet.width - 2 * sheet.margin - gutter
    busy = [stretch for one in reaches for stretch in one.busy]
    whole = _largest(sheet, high - low, tall, room, thin)
    chosen: tuple[float, str] = whole
    cuts: tuple[Stretch, ...] = ()
    if whole[0] * thin < sheet.legible:
        chosen, cuts = _broken(sheet, (low, high), busy, tall, room, thin) or (whole, ())
    scale, ratio = chosen
    return Plot(scale, ratio, low, high, sheet.margin, cuts, _gap(sheet))


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


def _broken(
    sheet: Sheet, whole: Stretch, busy: list[Stretch], tall: float, room: float, thin: float
) -> tuple[tuple[float, str], tuple[Stretch, ...]] | None:
    """Return the largest scale that goes on the sheet with breaks, and these; None where none help."""
    for drawn, true in _RATIOS:
        scale = sheet.mm * drawn / true
        if scale * thin > 1.6 * sheet.legible or scale * tall > sheet.tallest:
            continue
        plain = _plain(whole, busy, pad=1.1 * sheet.letter / scale)
        cuts = _cuts(plain, scale * (whole[1] - whole[0]) - room, scale, _gap(sheet))
        if cuts is not None:
            return (scale, f"{drawn:g}:{true:g}"), cuts
    return None


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
