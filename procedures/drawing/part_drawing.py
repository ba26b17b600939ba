"""All drawings of one part: on the same datum, and at the same scale until a much larger part comes in."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from calculators.glow import glow_hex
from calculators.wording import METRIC, UnitSystem
from procedures.engine.replay import Frame, PartReplay

from .datum import datum_of
from .figure import Figure
from .layout import Layout, laid_out
from .mark_out import draw_mark_out
from .notes import Notes, notes_of, notes_of_piece
from .plot import Plot
from .sheet import Sheet, Size, sheet
from .views import VIEW
from .words import describe

Arrangement = tuple[tuple[int, str, Plot], ...]  # by its first step: the main view, and how it is plotted
_GLOWS = 550.0  # °C from which the glow is more than black on a screen
_MUCH = 1.5  # times the scale: what comes in is so large that the steps before it are drawn at their own


class PartDrawing:
    """Draws the steps of one part.

    `size` is "small" (300 px), "screen" or "print" (millimetres); `width` is
    another width in the same unit, `tallest` how tall the metal of one view may come out, `turned` whether
    the piece is seen from its other side, its start to the right, as a left-handed smith holds it.
    Every drawing is a whole SVG element without ids, so that any number of them may stand on one page.
    """

    def __init__(
        self,
        replayed: PartReplay,
        units: UnitSystem = METRIC,
        size: Size = "screen",
        *,
        width: float | None = None,
        tallest: float | None = None,
        turned: bool = False,
        capitals: float | None = None,
    ) -> None:
        self.replayed = replayed
        self.units = units
        self.turned = turned
        self.sheet: Sheet = sheet(size, width, tallest, capitals)
        datum = datum_of(replayed)
        self._start = Figure(notes_of_piece(replayed.start), replayed.part.key, datum, turned=turned)
        self._done = {one.number: one for one in replayed.frames if one.status == "done"}
        self._figures: dict[int, Figure] = {}

    @cached_property
    def arrangement(self) -> Arrangement:
        """How the drawings are laid out, which takes all of them to know; the mark-out does without.

        Whoever kept it may set it instead, for a part that has not changed.
        """
        return tuple((number, one.main.name, one.plot) for number, one in self._laid_out())

    @cached_property
    def _layouts(self) -> list[tuple[int, Layout]]:
        """By its first step each layout."""
        return [
            (number, Layout(self.sheet, self.units, VIEW[main], plot))
            for number, main, plot in self.arrangement
        ]

    @property
    def plot(self) -> Plot:
        """How the last steps come onto the sheet."""
        return self._layouts[-1][1].plot

    @property
    def scales(self) -> str:
        """The scales of its drawings as text: while this stays the same, none has changed its scale."""
        return " ".join(f"{number}:{layout.plot.scale:.6g}" for number, layout in self._layouts)

    def _laid_out(self) -> Iterator[tuple[int, Layout]]:
        """Yield (its first step, layout): a part that comes in and is much larger begins another."""
        stock = self.replayed.start.stock.section
        done = ((number, self._figure(one)) for number, one in self._done.items())
        waiting = [(0, self._start), *done]
        arrivals = [one.number for one in self.replayed.frames if _brings_in(one)]
        begun = 0
        for number in [*arrivals, None]:
            first = [one for at, one in waiting if number is None or at < number]
            rest = [(at, one) for at, one in waiting if number is not None and at >= number]
            alone = laid_out(self.sheet, self.units, first, stock)
            if number is not None and rest:
                whole = laid_out(self.sheet, self.units, [one for _, one in waiting], stock)
                if alone.plot.scale < _MUCH * whole.plot.scale:
                    continue
            yield begun, alone
            if number is None or not rest:
                return
            begun, waiting = (
                number,
                [(number, first[-1]), *rest],
            )  # what it was is drawn behind what comes of it

    def _layout(self, number: int) -> Layout:
        """Return the layout of a step, 0 being the raw bar."""
        return next(layout for first, layout in reversed(self._layouts) if first <= number)

    # -- drawings --------------------------------------------------------------------------------

    def step(self, frame: Frame) -> str:
        """Return the drawing of a step: the piece after it, over the outline of what it was."""
        figure = self._figure(frame)
        before = self._before(frame, figure.notes)
        drawn = self._layout(frame.number).drawn(figure, self.text(frame), before, glow=_glow(frame))
        if before is not None:
            before.forget()  # the drawings of a part are made in order
        return drawn

    def before(self, frame: Frame) -> str:
        """Return the drawing of the piece that a step finds, with nothing but its own outline."""
        figure = self._made(notes_of_piece(frame.before))
        label = self._describe(figure.notes, f"before step {frame.number}")
        return self._layout(frame.number).drawn(figure, label)

    def start(self) -> str:
        """Return the drawing of the raw bar."""
        return self._layout(0).drawn(self._start, self._describe(self._start.notes, "raw bar"))

    def final(self) -> str:
        """Return the drawing of the finished piece."""
        figure = self._made(notes_of_piece(self.replayed.final))
        return self._layouts[-1][1].drawn(figure, self._describe(figure.notes, "finished"))

    def mark_out(self) -> str:
        """Return the raw bar with every place to mark on it, its distance from the start and its use."""
        return draw_mark_out(self.replayed, self.units, self.sheet, turned=self.turned)

    def text(self, frame: Frame) -> str:
        """Return in words what the drawing of a step shows."""
        title = f"Step {frame.number}, {frame.title}"
        if frame.status != "done":
            title += " (not done)"
        return describe(self._figure(frame).notes, self.units, title=title)

    def _describe(self, notes: Notes, what: str) -> str:
        return describe(notes, self.units, title=f"{self.replayed.part.name}, {what}")

    # -- making one ------------------------------------------------------------------------------

    def _made(self, notes: Notes) -> Figure:
        return Figure(notes, self.replayed.part.key, self._start.datum, turned=self.turned)

    def _figure(self, frame: Frame) -> Figure:
        if frame.number not in self._figures:
            self._figures[frame.number] = self._made(notes_of(frame))
        return self._figures[frame.number]

    def _before(self, frame: Frame, notes: Notes) -> Figure | None:
        """Return the piece that a step found, to be drawn as a ghost; None where nothing was done."""
        if notes.before is None:
            return None
        earlier = self._done.get(frame.number - 1)
        last = self._figure(earlier) if earlier else self._start
        if last.notes.piece.branches is frame.before.branches:
            return last
        return self._made(notes_of_piece(frame.before))


def _brings_in(frame: Frame) -> bool:
    """Whether a step brings in another part."""
    return frame.after.received > frame.before.received


def _glow(frame: Frame) -> str:
    """Return the colour of the heat that a step is done at; nothing for work that does not glow."""
    done = frame.operation if frame.status == "done" else None
    heat = done.planned_heat(frame.before) if done else None
    if heat is None or getattr(frame.operation, "cold", False):
        return ""
    middle = sum(heat) / 2
    return glow_hex(middle) if middle >= _GLOWS else ""
