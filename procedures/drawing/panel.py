"""One view of one piece on the sheet: its metal, what it was before, centre lines, breaks, holes and marks.

Heights on a panel are measured down from the X axis of the view; whoever puts it on the sheet moves it there.
"""

from __future__ import annotations

from collections.abc import Iterable

from procedures.engine.pieces.axes import Axes, Vector
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import Pose, PosedBranch

from .canvas import Canvas, Words
from .covered import Covered
from .facets import Facet
from .features import draw_feature
from .linework import between, centre_runs, longer, thin_boxes, wave
from .notes import Notes
from .plot import Plot
from .room import Box, Room, around
from .sheet import Sheet
from .strokes import Scene
from .surface import draw_patterns, draw_treatments
from .tidy import joined, length, not_under, without_doubles
from .views import Line, Spot, View, heading, is_clockwise, reach
from .welds import draw_welds

_HEAVY_FIRST = ("worked", "outline", "worked-edge", "edge", "hidden")
_DASH = 0.6  # letters: a hidden edge of a crowded view is at least so long
_CROWD = 60  # lines of a view from which those that cannot be told apart are left out
_FINE = 6  # boxes that stand for a slanting run, so that words may come close to it


class Panel:
    """One view of one piece, being drawn."""

    def __init__(
        self,
        sheet: Sheet,
        plot: Plot,
        view: View,
        pose: Pose,
        seen: Scene,
        worked: tuple[Span, ...] = (),
        *,
        is_side: bool = False,
    ) -> None:
        self.worked = worked
        self.is_side = is_side  # whether the faces that marks are punched in are seen in another view
        self.sheet = sheet
        self.plot = plot.view(view.name)
        self.view = view
        self.pose = pose
        self.seen = seen
        self.canvas = Canvas(sheet)
        self._axes: dict[tuple[str, float], Axes] = {}
        self.metal, self.ghost = Room(3 * sheet.letter), Room(3 * sheet.letter)
        for one in seen.facets:
            self.metal.add(*self._boxes(one))

    # -- where things are ------------------------------------------------------------------------

    def spot(self, place: Vector) -> Spot:
        """Return where a place in space comes on the panel."""
        return self.plot.at(self.view.flat(place))

    def axes(self, branch: str, at: float) -> Axes:
        """Return the axes of a place on a branch."""
        key = (branch, at)
        if key not in self._axes:
            self._axes[key] = self.pose.by_name[branch].axes_at(at)
        return self._axes[key]

    def on(self, branch: str, at: float) -> Spot:
        """Return where a place on a centreline comes on the panel."""
        return self.spot(self.axes(branch, at).origin)

    def way(self, branch: str, at: float) -> tuple[Spot, float]:
        """Return the direction of a branch on the sheet, down positive, and how long 1 mm of it looks."""
        (x, y), seen = heading(self.axes(branch, at), self.view)
        return (x, -y), seen

    def edges(self, branch: str, at: float, across: Spot = (0.0, 1.0)) -> tuple[float, float]:
        """Return how far the bar reaches there, least and most, along a vector of the view [sheet units]."""
        posed = self.pose.by_name[branch]
        low, high = reach(posed.branch.section_at(at), self.axes(branch, at), self.view, across)
        return low * self.plot.scale, high * self.plot.scale

    def lies_along(self, branch: str, low: float, high: float) -> bool:
        """Whether a run of a branch lies straight along X in this view, its true length."""
        first, last = self.axes(branch, low), self.axes(branch, high)
        if abs(first.ahead[0]) < 1 - 1e-6 or abs(last.ahead[0]) < 1 - 1e-6:
            return False
        return abs(abs(last.origin[0] - first.origin[0]) - (high - low)) < 1e-3 * max(high - low, 1.0)

    @property
    def top(self) -> float:
        """The least height that metal reaches."""
        return min((one[1] for one in self.metal.boxes), default=0.0)

    @property
    def bottom(self) -> float:
        """The most height that metal reaches."""
        return max((one[3] for one in self.metal.boxes), default=0.0)

    @property
    def right(self) -> float:
        """The most that metal reaches to the right."""
        return max((one[2] for one in self.metal.boxes), default=0.0)

    @property
    def left(self) -> float:
        """The most that metal reaches to the left."""
        return min((one[0] for one in self.metal.boxes), default=0.0)

    def top_over(self, left: float, right: float) -> float | None:
        """Return the least height of metal and old outline between two places along the sheet."""
        boxes = (*self.metal.boxes, *self.ghost.boxes)
        return min((one[1] for one in boxes if one[0] < right and left < one[2]), default=None)

    def foot_under(self, left: float, right: float) -> float | None:
        """Return the most height of metal and old outline between two places along the sheet."""
        boxes = (*self.metal.boxes, *self.ghost.boxes)
        return max((one[3] for one in boxes if one[0] < right and left < one[2]), default=None)

    def _boxes(self, one: Facet) -> list[Box]:
        """Return boxes that together hold a facet closely."""
        ring = [self.plot.at(spot) for spot in one.ring]
        if not one.is_band or len(ring) < 4:
            return [around(ring)]
        half = len(ring) // 2
        lefts, rights = ring[:half], ring[half:][::-1]
        boxes = []
        for index in range(half - 1):
            corners = [lefts[index], lefts[index + 1], rights[index], rights[index + 1]]
            level = (
                abs(lefts[index][1] - lefts[index + 1][1]) < 1
                or abs(lefts[index][0] - lefts[index + 1][0]) < 1
            )
            if half > 2 or level:
                boxes.append(around(corners))
                continue
            for part in range(_FINE):
                ends = (part / _FINE, (part + 1) / _FINE)
                boxes.append(
                    around(
                        [between(lefts[index], lefts[index + 1], share) for share in ends]
                        + [between(rights[index], rights[index + 1], share) for share in ends]
                    )
                )
        return boxes

    # -- drawing ---------------------------------------------------------------------------------

    def draw_metal(self) -> None:
        """Draw the outlines, hidden edges and the tone of what was worked."""
        for ring in self.seen.tones:
            self._tone(ring)
        found: dict[str, list[Line]] = {kind: [] for kind in _HEAVY_FIRST}
        for stroke in self.seen.strokes:
            kind: str = stroke.kind
            if stroke.worked and kind != "hidden":
                kind = "worked" if kind == "outline" else "worked-edge"
            found[kind] += self.plot.lines(stroke.line)
        crowded = len(self.seen.strokes) > _CROWD
        for kind, lines in (self._thinned(found) if crowded else found).items():
            for line in lines:
                self.canvas.line(kind, line)

    def _thinned(self, found: dict[str, list[Line]]) -> dict[str, list[Line]]:
        """Return the lines of a crowded view without those that heavier ones hide, joined where they meet."""
        near = 0.5 * self.sheet.outline
        over: list[Line] = []
        thinned = {}
        for kind, lines in found.items():
            thinned[kind] = joined(without_doubles(not_under(lines, over, near), near))
            if kind == "hidden":  # a bit of a dash tells nothing
                thinned[kind] = [one for one in thinned[kind] if length(one) > _DASH * self.sheet.letter]
            over += thinned[kind]
        return thinned

    def _tone(self, ring: Line) -> None:
        """Fill a silhouette with the worked tone, leaving breaks open."""
        for part in self._between_breaks(ring):
            spots = [self.plot.at(spot) for spot in part]
            self.canvas.line("tone", spots if is_clockwise(spots) else spots[::-1], closed=True)

    def _between_breaks(self, ring: Line) -> list[Line]:
        """Return a ring of a view [mm]; in level parts where breaks cross it: only plain bar is."""
        left, foot, right, top = around(ring)
        columns = _parts(left, right, self.plot.cuts)
        rows = _parts(foot, top, self.plot.rows)
        if len(columns) == len(rows) == 1:
            return [ring]
        return [[(a, c), (b, c), (b, d), (a, d)] for a, b in columns for c, d in rows]

    def draw_ghost(self, before: Scene) -> None:
        """Draw the outline the piece had before, where it had another."""
        here = Covered(one.line for one in self.seen.strokes)
        old = [
            line
            for stroke in before.strokes
            if stroke.kind == "outline" and not here.covers(stroke.line)
            for line in self.plot.lines(stroke.line)
        ]
        new = [
            line for one in self.seen.strokes if one.kind == "outline" for line in self.plot.lines(one.line)
        ]
        for line in not_under(old, new, 0.5 * self.sheet.outline):
            self.canvas.line("ghost", line)
            self.ghost.add(*thin_boxes(line, 0.1 * self.sheet.letter))

    def draw_centre_lines(self) -> None:
        """Draw the centre line of every branch that is thick enough on the sheet to have one."""
        slanted = {one.branch for one in self.seen.facets if not one.is_band}
        over = self.sheet.letter * 0.45
        for branch in self.pose.branches:
            if branch.branch.name in slanted or not branch.segments or not self._is_thick(branch):
                continue
            for line in centre_runs([one.stations for one in branch.segments], self.view):
                for part in self.plot.lines(line):
                    self.canvas.line("centre", longer(part, over))

    def _is_thick(self, branch: PosedBranch) -> bool:
        thick = max(min(one.segment.start.width, one.segment.start.thickness) for one in branch.segments)
        return thick * self.plot.scale > 0.55 * self.sheet.letter

    def draw_breaks(self) -> None:
        """Draw the break lines where metal crosses a stretch that is left out."""
        over = 0.3 * self.sheet.letter
        for axis, cuts in enumerate((self.plot.cuts, self.plot.rows)):
            for low, high in cuts:
                for first, last in self._crossing(axis, low, high):
                    for at in (low, high):
                        level = self.plot.down(at) if axis else self.plot.across(at)
                        line = wave(level, first - over, last + over, over)
                        self.canvas.line("break", [(y, x) for x, y in line] if axis else line)

    def _crossing(self, axis: int, low: float, high: float) -> list[tuple[float, float]]:
        """Return from where to where on the sheet metal crosses a break, what lies close together as one."""
        found = []
        for one in self.seen.facets:
            box = around([self.plot.at(spot) for spot in one.ring])
            if one.box[axis] < low and one.box[axis + 2] > high:
                found.append((box[1 - axis], box[3 - axis]))
        merged: list[tuple[float, float]] = []
        for first, last in sorted(found):
            if merged and first < merged[-1][1] + self.sheet.letter:
                merged[-1] = (merged[-1][0], max(merged[-1][1], last))
            else:
                merged.append((first, last))
        return merged

    def draw_holes(self, notes: Notes) -> None:
        """Draw the holes and what else is on the bar, from the face they are in or from the side."""
        for one in notes.holes:
            draw_feature(self, one)

    def draw_skins(self, notes: Notes, *, treatments: bool) -> None:
        """Draw the patterns on the surface, the lines of welds and, in one view, of what was hardened."""
        draw_patterns(self, notes)
        draw_welds(self, notes)
        if treatments:
            draw_treatments(self, notes)

    def title(self) -> None:
        """Write which view this is, at its upper left, where there is room."""
        size = self.sheet.letter
        top = self.canvas.span[0]
        for level in (self.top - 0.6 * size, top - 0.6 * size):
            words = Words(self.view.title, (self.sheet.margin, level), size, "start", kind="quiet")
            rooms = (self.canvas.taken, self.metal, self.ghost)
            left, above, right, below = words.box
            box = (left, above, right + 0.8 * size, below)  # what follows on the line is no part of it
            if all(room.is_free(box, 0.2 * size) for room in rooms):
                self.canvas.write(words)
                return


def _parts(low: float, high: float, cuts: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return what is left of a stretch when those are taken out that it crosses."""
    ends = [low, *(at for cut in cuts if low < cut[0] and cut[1] < high for at in cut), high]
    return list(zip(ends[::2], ends[1::2], strict=True))
