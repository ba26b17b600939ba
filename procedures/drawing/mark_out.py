"""The raw bar with every place to mark on it: its distance from the start, and what it is for."""

from __future__ import annotations

from math import sqrt

from calculators.wording import UnitSystem
from procedures.engine.markout import BarMark, bar_marks
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.pose import pose
from procedures.engine.replay import PartReplay

from .canvas import Canvas, Words
from .footer import draw_footer
from .lettering import bare, fitted, name, section_words, spaced
from .panel import Panel
from .plot import plot
from .reach import Reach, reach_of
from .running import running, spread
from .scene import scene
from .sheet import Sheet
from .tiers import Measure, Tiers
from .views import PLAN

_LONGEST = 11  # letter heights of a name standing on the bar


def draw_mark_out(replayed: PartReplay, units: UnitSystem, sheet: Sheet, *, turned: bool = False) -> str:
    """Return the mark-out drawing of a part's raw bar; `turned` has its start to the right."""
    ahead = -1 if turned else 1  # the way of the bar on the sheet
    marks = bar_marks(replayed)
    piece = replayed.start
    posed = pose(piece, turned=turned)
    reach = reach_of(posed, (PLAN,))
    busy = (*reach.busy, *((ahead * one.at, ahead * one.at) for one in marks))
    section = piece.stock.section
    plotted = plot(
        sheet,
        [Reach(reach.low, reach.high, reach.heights, reach.middles, busy)],
        sqrt(section.width * section.thickness),
        0.4 * sheet.letter,
    )
    panel = Panel(sheet, plotted, PLAN, posed, scene(posed, PLAN))
    panel.draw_metal()
    panel.draw_breaks()
    marked = [(plotted.across(ahead * one.at), one) for one in marks[::ahead]]
    lost = _names(panel, marked)
    foot = panel.bottom
    if marks:
        places = [(plotted.across(0.0), "0")]
        places += [(at, bare(one.at, units)) for at, one in marked]
        foot = running(panel.canvas, panel, places, foot)
    tiers = Tiers(panel.canvas, sheet.margin, sheet.width - sheet.margin)
    ends = plotted.across(reach.low), plotted.across(reach.high)
    words = f"{section_words(section, units)} × {bare(piece.stock.length, units)}"
    tiers.place([Measure(*ends, spaced(words), panel.bottom, panel.bottom, outermost=True)])
    tiers.draw(panel, foot)
    return _on_sheet(panel, lost, units, _described(replayed, piece, marks, units))


def _names(panel: Panel, marks: list[tuple[float, BarMark]]) -> list[str]:
    """Write what each mark is for, standing on the bar where it lies; return what did not go there."""
    canvas, size = panel.canvas, panel.sheet.letter
    wanted = [at for at, _ in marks]
    low, high = panel.sheet.margin + size / 2, panel.sheet.width - panel.sheet.margin - size / 2
    top = panel.top - 0.2 * size
    lost = []
    for (at, mark), slot in zip(marks, spread(wanted, 1.05 * size, low, high), strict=True):
        canvas.circle("mark", (at, 0.0), 0.22 * size)
        canvas.circle("dot", (at, 0.0), 0.08 * size)
        words = _use(mark)
        if slot is None:
            lost.append(words)
            continue
        short = fitted(words, size, _LONGEST * size)
        begin = top - 0.9 * size
        canvas.line("dim", [(at, -0.22 * size), (at, top - 0.15 * size), (slot, begin + 0.12 * size)])
        kind = "name" if mark.kind == "mark" else "text"
        canvas.write(Words(short, (slot + 0.35 * size, begin), size, "start", -90, kind))  # type: ignore[arg-type]
    return [f"Not named here: {len(lost)} more"] if lost else []


def _use(mark: BarMark) -> str:
    """Return what a mark is for: its name, and the steps that begin, end or are done there."""
    return "; ".join(
        name(one.label, 24)
        if one.kind == "mark"
        else f"{', '.join(map(str, one.steps))} {name(one.label, 24)}"
        for one in mark.uses
    )


def _on_sheet(panel: Panel, lost: list[str], units: UnitSystem, label: str) -> str:
    whole = Canvas(panel.sheet)
    top, foot = panel.canvas.span
    whole.add(panel.canvas, panel.sheet.margin - top)
    at = panel.sheet.margin + foot - top + 0.9 * panel.sheet.letter
    at = draw_footer(whole, panel.plot, units, at, lost, two_views=False)
    return whole.svg(at + panel.sheet.margin, label)


def _described(replayed: PartReplay, piece: Piece, marks: tuple[BarMark, ...], units: UnitSystem) -> str:
    said = f"{replayed.part.name}, mark-out of the raw bar: {units.section(piece.stock.section)}, "
    said += f"{units.length(piece.stock.length)} long."
    if marks:
        said += " From the start: " + ", ".join(f"{units.length(one.at)} {_use(one)}" for one in marks) + "."
    return said
