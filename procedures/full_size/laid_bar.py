"""A bar laid out straight at full size, with places on it: their names over it, their distances under it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.drawing.lettering import fitted, name
from procedures.drawing.linework import wave
from procedures.drawing.running import spread

from .pattern import LETTER, SMALL, TITLE, Arc, Item, Line, Pattern, Spot, Words, box_of, headed
from .rows import STUB, Row, rows

Symbol = Literal["punch", "chisel", "soapstone", "none"]
SYMBOL_WORDS: dict[Symbol, str] = {
    "punch": "centre punch",
    "chisel": "chisel nick",
    "soapstone": "soapstone line",
}
_PITCH = 1.15 * LETTER  # mm between words that stand beside each other
_LONGEST = 48.0  # mm: of what stands over a place
_LEADER = 6.0  # mm from the edge of the bar to its words
_TITLE_ROOM = 165.0  # mm: what is longer runs off a narrow sheet


@dataclass(frozen=True, slots=True)
class Place:
    """A place `at` mm along the bar: what stands over it and under it, and how it is struck."""

    at: float
    over: str
    under: str
    symbol: Symbol = "none"
    strong: bool = False


@dataclass(frozen=True)
class LaidBar:
    """A bar to be ruled off at full size.

    `edges` are (mm along, lower edge, upper edge) in order; between them the edges run straight. `shapes` are
    (mm along, what is drawn there in place). `datum` is what the end at 0 is called, or nothing.
    """

    key: str
    title: str
    lead: str
    edges: tuple[tuple[float, float, float], ...]
    places: tuple[Place, ...]
    units: UnitSystem
    section: Section | None = None
    shapes: tuple[tuple[float, tuple[Item, ...]], ...] = ()
    notes: tuple[str, ...] = ()
    datum: str = ""
    chosen: bool = True

    @property
    def begin(self) -> float:
        """Where it begins [mm]."""
        return self.edges[0][0]

    @property
    def end(self) -> float:
        """Where it ends [mm]."""
        return self.edges[-1][0]

    def pattern(self) -> Pattern:
        """Return it in one piece, to be had in shorter ones too."""
        whole = self._row(Row(0.0, self.end - self.begin), 0, 1)
        return replace(whole, key=self.key, stacked=self._stacked)

    def _stacked(self, room: float) -> tuple[Pattern, ...]:
        """Return its rows, none wider than so many mm."""
        aside = self.section.thickness + 12.0 if self.section else 0.0
        places = (one.at - self.begin for one in self.places if one.over)
        found = rows(self.end - self.begin, places, room - aside - 8.0)
        return tuple(self._row(one, index, len(found)) for index, one in enumerate(found))

    # -- one row ---------------------------------------------------------------------------------

    def _row(self, row: Row, number: int, count: int) -> Pattern:
        low, high = row.low + self.begin, row.high + self.begin
        first, last = max(low - STUB, self.begin), min(high + STUB, self.end)
        on_it = [one for one in self.places if low - 1e-6 <= one.at <= high + 1e-6]
        items: list[Item] = [*self._outline(first, last)]
        items += [one for at, shape in self.shapes if first <= at <= last for one in shape]
        items += self._placed(on_it, first, last, first + 0.9 * _PITCH if number == 0 else first - 2.0)
        if number == 0:
            items += self._datum_end(first)
        items += self._legend(on_it, first, box_of(spot for one in items for spot in one.spots)[1])
        lead = self._row_words(row, number, count)
        notes = [*(self.notes if number == 0 else ()), *([lead] if lead else [])]
        title = fitted(self.title + (f", {number + 1} of {count}" if count > 1 else ""), TITLE, _TITLE_ROOM)
        shown = headed(items, title, (fitted(one, SMALL, _TITLE_ROOM) for one in notes))
        return Pattern(f"{self.key}-{number + 1}", self.title, self.lead, shown, self.chosen)

    def _row_words(self, row: Row, number: int, count: int) -> str:
        """Return what is said of a row among several."""
        if count == 1 and row.high - row.low >= self.end - self.begin - 1e-6:
            return ""
        ends = [self.units.length(one) for one in (row.low, row.high)]
        said = f"Part {number + 1} of {count}, broken at marks: " if count > 1 else "Broken at marks: "
        said += f"{ends[0]} to {ends[1]} from the {self.datum}."
        if number == 0 and row.low > 0:
            said += " Measure up to it: plain bar is left out."
        if row.left_out:
            said += f" Then {self.units.length(row.left_out)} of plain bar: measure it."
        elif number < count - 1:
            said += " The next part begins at this last mark."
        return said

    def _outline(self, first: float, last: float) -> Iterable[Item]:
        """Yield the edges between two distances, closed at the bar's ends, broken where it goes on."""
        open_start, open_end = first > self.begin + 1e-6, last < self.end - 1e-6
        run = _between(self.edges, first, last)
        if len(run) < 2:
            return
        lower = tuple((x, y) for x, y, _ in run)
        upper = tuple((x, y) for x, _, y in run)
        if not open_start and not open_end:
            yield Line("outline", (*lower, *upper[::-1]), closed=True)
        elif not open_start:
            yield Line("outline", (*upper[::-1], *lower))
        elif not open_end:
            yield Line("outline", (*lower, *upper[::-1]))
        else:
            yield Line("outline", lower)
            yield Line("outline", upper)
        for is_open, (x, low, high) in ((open_start, run[0]), (open_end, run[-1])):
            if is_open:
                yield Line("text", tuple(wave(x, low - 2, high + 2, 1.5)))
        middle = tuple((x, (low + high) / 2) for x, low, high in run)
        yield Line("centre", middle)

    def _placed(self, places: Sequence[Place], first: float, last: float, least: float) -> list[Item]:
        """Return the marks with their words, moved apart where they lie close, none left of `least`."""
        if not places:
            return []
        run = _between(self.edges, first, last)
        top, foot = max(one[2] for one in run) + _LEADER, min(one[1] for one in run) - _LEADER
        wanted = [one.at for one in places]
        slots = spread(wanted, _PITCH, least, max(last, least + _PITCH * len(places)) + 2.0)
        items: list[Item] = []
        for one, slot in zip(places, slots, strict=True):
            low, high = _edges_at(self.edges, one.at)
            items += struck(one.symbol, one.at, low, high)
            at = one.at if slot is None else slot
            for words, edge, level, anchor in (
                (fitted(one.over, LETTER, _LONGEST), high, top, "start"),
                (fitted(one.under, LETTER, _LONGEST), low, foot, "end"),
            ):
                if not words:
                    continue
                out = 1.0 if level > edge else -1.0
                items.append(
                    Line("text", ((one.at, edge + 0.8 * out), (one.at, edge + 2.5 * out), (at, level - out)))
                )
                stand = (at + 0.35 * LETTER, level)
                items.append(Words(words, stand, LETTER, anchor, 90.0, strong=one.strong))  # type: ignore[arg-type]
        return items

    def _datum_end(self, first: float) -> list[Item]:
        """Return the section of the bar beside its beginning, and the arrow of the end measured from."""
        low, _ = _edges_at(self.edges, first)
        items: list[Item] = []
        if self.section:
            aside = first - 6.0 - self.section.thickness / 2
            ring = tuple((aside - z, y) for y, z in self.section.outline(24))
            bore = tuple((aside - z, y) for y, z in self.section.bore_outline(24))
            items += [Line("outline", one, closed=True) for one in (ring, bore) if len(one) > 2]
        y, words = low - 1.0, self.datum
        arrow = ((first, y), (first - 2.0, y - 5.0), (first + 2.0, y - 5.0))
        if first > self.begin:
            arrow = ((first - 2.0, y - 3.0), (first + 2.0, y - 1.0), (first + 2.0, y - 5.0))
            words = f"{self.datum}: {self.units.length(first - self.begin)} this way"
        stand = Words(words, (first + 0.35 * LETTER, y - 6.5), LETTER, "end", 90.0, strong=True)
        return [*items, Line("marks", arrow, True, filled=True), stand]

    def _legend(self, places: Sequence[Place], x: float, foot: float) -> list[Item]:
        """Return what the symbols on it mean."""
        items: list[Item] = []
        y = foot - 5.0
        for symbol, words in SYMBOL_WORDS.items():
            if not any(one.symbol == symbol for one in places):
                continue
            items += struck(symbol, x + 2.0, y - 2.0, y + 2.0)
            made = Words(words, (x + 5.5, y - 0.9), SMALL)
            items.append(made)
            x = made.spots[-1][0] + 6.0
        return items


def struck(symbol: Symbol, x: float, low: float, high: float) -> list[Item]:
    """Return the symbol of a mark across a bar whose edges lie at `low` and `high` there."""
    middle = (low + high) / 2
    over = 1.5
    if symbol == "punch":
        ticks = [Line("marks", ((x, edge), (x, edge + side * over))) for edge, side in ((low, -1), (high, 1))]
        arm = 0.9
        strokes = [
            Line("marks", ((x - arm, middle), (x + arm, middle))),
            Line("marks", ((x, middle - arm), (x, middle + arm))),
        ]
        return [Arc("marks", (x, middle), 1.2), *strokes, *ticks]
    if symbol == "chisel":
        nicks = [
            Line(
                "marks",
                ((x, edge), (x - 1.2, edge + side * 2.0), (x + 1.2, edge + side * 2.0)),
                True,
                filled=True,
            )
            for edge, side in ((low, -1), (high, 1))
        ]
        return [Line("marks", ((x, low), (x, high))), *nicks]
    if symbol == "soapstone":
        return [Line("marks", ((x, low - over), (x, high + over)), dashed=True)]
    return []


def words_over(label: str, longest: int = 40) -> str:
    """Return somebody's words as they may stand over a place."""
    return name(label, longest)


def _edges_at(edges: Sequence[tuple[float, float, float]], at: float) -> tuple[float, float]:
    found = _between(edges, at, at)
    return found[0][1], found[0][2]


def _between(
    edges: Sequence[tuple[float, float, float]], first: float, last: float
) -> list[tuple[float, float, float]]:
    """Return the edges from one distance to another, both ends included."""
    inside = [one for one in edges if first < one[0] < last]
    begin, end = _at(edges, first, after=True), _at(edges, last, after=False)
    return [begin, *inside, end] if last > first else [begin]


def _at(edges: Sequence[tuple[float, float, float]], at: float, *, after: bool) -> tuple[float, float, float]:
    """Return the edges at a distance; at a step, those before or after it."""
    order = list(pairwise(edges))
    for one, two in reversed(order) if after else order:
        if one[0] <= at <= two[0] and two[0] > one[0]:
            share = (at - one[0]) / (two[0] - one[0])
            return at, one[1] + share * (two[1] - one[1]), one[2] + share * (two[2] - one[2])
    nearest = edges[0] if at < edges[0][0] else edges[-1]
    return at, nearest[1], nearest[2]


__all__ = ["LaidBar", "Place", "Spot", "Symbol", "struck", "words_over"]
