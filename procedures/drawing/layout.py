"""Some drawings of a part laid out alike: at one scale, on one datum, in the same views."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import median

from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.engine.pieces.pose import CHORD, Pose
from procedures.engine.pieces.segment import Segment

from .annotate import Annotator
from .canvas import Canvas
from .curve_notes import CurveNote
from .detail import detail_of, short_run
from .figure import Figure
from .footer import draw_footer
from .inset import draw_detail
from .labels import Loose
from .marks import draw_cuts, draw_marks
from .notes import Notes
from .panel import Panel
from .plot import Plot, plot
from .reach import Reach
from .sheet import Sheet
from .views import EDGE, PLAN, VIEWS, View

_LEVEL = 0.5  # mm: a piece that leaves the plane by less still lies in it
_TRUE = 0.95  # of its length: metal seen at least so long is seen as it lies
_EVEN = 1.02  # a section no wider than this many times its thickness looks the same in both views


def laid_out(sheet: Sheet, units: UnitSystem, figures: Sequence[Figure], stock: Section) -> Layout:
    """Return the scale and the views that let all figures of a bar go on the sheet."""
    reaches = [one.reach for one in figures]
    thin = sqrt(stock.width * stock.thickness)
    return Layout(sheet, units, _main_view(reaches), plot(sheet, reaches, thin, _gutter(sheet, reaches)))


def _gutter(sheet: Sheet, reaches: Sequence[Reach]) -> float:
    """Return the room to keep free on the right, for heights beside a piece that is bent."""
    bent = any(top - low > _LEVEL for one in reaches for low, top in one.middles.values())
    return (2.4 if bent else 0.4) * sheet.letter


@dataclass
class Layout:
    """The scale and the main view that some figures share, and the drawing of each of them."""

    sheet: Sheet
    units: UnitSystem
    main: View
    plot: Plot

    def drawn(self, figure: Figure, label: str, before: Figure | None = None, glow: str = "") -> str:
        """Return the drawing of a piece, over the outline of what it was before."""
        figures = [figure] if before is None else [figure, before]
        run = short_run(figure.notes, self.plot, self.sheet)
        for one in figures:
            one.finest = max(CHORD, self.sheet.finest / self.plot.scale)
        views = self._views([one.pose for one in figures], figure.notes)
        panels: dict[str, Panel] = {
            view.name: self._panel(view, figure, before, two_views=len(views) > 1) for view in views
        }
        detail = detail_of(list(panels.values()), run, figure.notes, self.sheet) if run else None
        if detail:
            detail.encircle()
        lost = self._annotate(panels, figure.notes)
        if detail and not detail.name_it():
            detail = None
        if detail:
            label = f"{label} Detail {detail.letter} shows the work at {detail.ratio}."
        whole, at, downs = self._composed([panels[view.name] for view in views])
        at = draw_footer(whole, self.plot, self.units, at, lost, two_views=len(views) > 1)
        if detail:
            at = draw_detail(whole, downs[detail.panel.view.name], at, detail, figures)
        return whole.svg(at + self.sheet.margin, label, glow)

    def _panel(self, view: View, figure: Figure, before: Figure | None, *, two_views: bool) -> Panel:
        notes, side = figure.notes, view is EDGE and two_views
        sheet = self._weighted(figure.pose)
        panel = Panel(sheet, self.plot, view, figure.pose, figure.scene(view), notes.worked, is_side=side)
        if before is not None:
            panel.draw_ghost(before.scene(view))
        panel.draw_metal()
        panel.draw_holes(notes)
        panel.draw_skins(notes, treatments=view is self.main)
        if not self.sheet.is_small:
            panel.draw_centre_lines()
        draw_marks(panel, notes)
        if view is self.main:
            draw_cuts(panel, notes)
        panel.draw_breaks()
        return panel

    def _weighted(self, posed: Pose) -> Sheet:
        """Return the sheet with lines fine enough for bars that come out thin on it."""
        thin = [
            max(min(one.width, one.thickness) for one in _sections(posed_one.segment))
            for branch in posed.branches
            for posed_one in branch.segments
        ]
        return self.sheet.for_bars(median(thin) * self.plot.scale) if thin else self.sheet

    def _views(self, poses: Iterable[Pose], notes: Notes) -> list[View]:
        """Return the views to draw: the main one, and the other where it says something new."""
        other = PLAN if self.main is EDGE else EDGE
        new = any(_says_more(one, other) for one in poses) or (other is PLAN and bool(notes.holes))
        return [view for view in VIEWS if view is self.main or new]

    def _annotate(self, panels: dict[str, Panel], notes: Notes) -> list[str]:
        lost: list[str] = []
        unnamed = 0
        more: list[Loose] = []
        for panel in sorted(panels.values(), key=lambda one: one.view is not self.main):
            is_main = panel.view is self.main
            curves = [one for one in notes.curves if self._shown_in(_ways(one), panels) == panel.view.name]
            angles = [one for one in notes.angles if self._angle_in(one[0], panels) == panel.view.name]
            other = next((one for one in panels.values() if one is not panel), None) if is_main else None
            maker = Annotator(panel, notes, self.units, is_main, other)
            maker.annotate(curves, angles, more)
            lost += maker.lost
            more = maker.elsewhere
            unnamed += maker.unnamed
        if not any(panel.seen.facets for panel in panels.values()):
            lost.append("Nothing is left of this piece.")
        if unnamed:
            lost.append(f"{unnamed} more not named here.")
        return lost

    def _shown_in(self, places: list[tuple[str, float]], panels: dict[str, Panel]) -> str:
        """Return the view that shows all these places at full length: the main one, unless only the other."""
        for panel in sorted(panels.values(), key=lambda one: one.view is not self.main):
            if min(panel.way(branch, at)[1] for branch, at in places) > _TRUE:
                return panel.view.name
        return self.main.name

    def _angle_in(self, branch: str, panels: dict[str, Panel]) -> str:
        """Return the view that shows a branch and what it hangs on as they lie."""
        piece = next(iter(panels.values())).pose.by_name
        attached = piece[branch].branch.attached
        if attached is None:
            return self.main.name
        ends = {"start": 0.0, "end": piece[attached.parent].branch.length}
        at = ends[attached.at] if isinstance(attached.at, str) else attached.at
        return self._shown_in([(branch, 0.0), (attached.parent, at)], panels)

    def _composed(self, panels: list[Panel]) -> tuple[Canvas, float, dict[str, float]]:
        """Return (the panels under each other, where they end, how far each view was moved down)."""
        whole = Canvas(panels[0].sheet)
        at = self.sheet.margin
        downs: dict[str, float] = {}
        for panel in panels:
            if len(panels) > 1:
                panel.title()
            top, foot = panel.canvas.span
            whole.add(panel.canvas, at - top)
            downs[panel.view.name] = at - top
            at += foot - top + 0.9 * self.sheet.letter
        return whole, at, downs


def _ways(curve: CurveNote) -> list[tuple[str, float]]:
    """Return the places along a curve that have to be seen for it to be seen as one."""
    return [(curve.span.branch, curve.span.low + curve.span.length * share) for share in (0.0, 0.5, 1.0)]


def _main_view(reaches: Sequence[Reach]) -> View:
    """Return the view in which the piece takes its shape: the edge where it bends in that plane alone."""
    rises = max(_rise(one, EDGE) for one in reaches)
    strays = max(_rise(one, PLAN) for one in reaches)
    return EDGE if rises > _LEVEL and strays <= _LEVEL else PLAN


def _rise(one: Reach, view: View) -> float:
    low, high = one.middles[view.name]
    return high - low


def _sections(segment: Segment) -> tuple[Section, ...]:
    return segment.start, segment.section_at(segment.length / 2), segment.end


def _says_more(posed: Pose, view: View) -> bool:
    """Whether a view of a piece differs from the other one."""
    for branch in posed.branches:
        for one in branch.segments:
            for section in _sections(one.segment):
                small, large = sorted((section.width, section.thickness))
                if large > _EVEN * small + 0.01:
                    return True
            if any(abs(station.axes.origin[view.upward]) > _LEVEL for station in one.stations):
                return True
    return False
