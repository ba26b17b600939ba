"""The chart of a timetable: a row a student, or a row a place, over the minutes of the session, as SVG.

Nothing is said by colour. A heat is a low pale bar, work at the anvil a tall grey one, at the vice one
outlined, under the power hammer a black one; a look of the teacher's is a stroke with a dot. Drawn with
presentation attributes, in the colour of the page's ink, so that it prints.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from procedures.timetable import FORGE, PLACES, Entry

from .class_plan import ClassPlan
from .class_signs import INK, ROW, joined, line, plain, rect, text, turn, waiting

WIDTH = 1000.0
_LEFT = {"students": 34.0, "places": 104.0}
_TOP, _LANE = 26.0, 11.0
_FOOT = 6.0
_LETTER = 4.6  # width of a figure at 9
_TICKS = (5, 10, 15, 30, 60, 120, 240)  # minutes
_MOST_TICKS = 13


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its name and its bars."""

    name: str
    bars: tuple[SafeString, ...]


class Chart:
    """A chart of a plan by students or by places."""

    def __init__(self, plan: ClassPlan, by: str = "students") -> None:
        self.plan = plan
        self.by = by
        self.left = _LEFT[by]
        self.length = max(plan.usual.minutes, 1.0)
        self.scale = (WIDTH - self.left - 8) / self.length

    def x(self, minutes: float) -> float:
        """Return where a minute of the session lies."""
        return round(self.left + minutes * self.scale, 2)

    def svg(self) -> SafeString:
        """Return the drawing."""
        rows = self._students() if self.by == "students" else self._places()
        height = _TOP + len(rows) * ROW + _FOOT
        parts = [*self._frame(height), *self._drawn(rows), *self._session_end(height)]
        return format_html(
            '<svg class="timetable__chart" viewBox="0 0 {} {}" role="img" aria-label="{}"'
            ' font-family="Barlow Condensed, sans-serif" font-size="11" fill="{}">{}</svg>',
            plain(WIDTH),
            plain(height),
            self._label(),
            INK,
            joined(parts),
        )

    def _label(self) -> str:
        what = "a row for each student" if self.by == "students" else "a row for each place"
        return f"Timetable, {what}. {self.plan.headline} The table of times below says the same in figures."

    # -- the frame -------------------------------------------------------------------------------

    def _frame(self, height: float) -> Iterator[SafeString]:
        step = next((one for one in _TICKS if self.length / one <= _MOST_TICKS), _TICKS[-1])
        for number in range(ceil(self.length / step) + 1):
            at = number * step
            if at > self.length + 0.01:
                break
            foot = height - _FOOT if self._is_work(at) else _TOP
            yield line(self.x(at), _TOP - 6, self.x(at), foot, 0.75, opacity=0.3)
            yield text(self.x(at), 14, self.plan.clock(at), "start" if not at else "middle")
        shop, usual = self.plan.shop, self.plan.usual
        blocks = (
            (0.0, shop.showing, "showing"),
            (usual.minutes - shop.clean_down, usual.minutes, "cleaning down"),
        )
        for begin, end, words in blocks:
            if end > begin:
                yield self._block(begin, end, words, height)

    def _is_work(self, minute: float) -> bool:
        shop = self.plan.shop
        return shop.showing <= minute <= self.plan.usual.minutes - shop.clean_down

    def _block(self, begin: float, end: float, words: str, height: float) -> SafeString:
        width = (end - begin) * self.scale
        tall = height - _TOP - _FOOT
        box = rect(self.x(begin), _TOP, width, tall, fill="none", stroke=True)
        if width < 12 or tall < len(words) * 5:
            return box
        x, y = self.x(begin) + width / 2 + 4, _TOP + tall / 2
        turned = format_html(
            '<text x="{0}" y="{1}" text-anchor="middle" font-size="12"'
            ' transform="rotate(-90 {0} {1})">{2}</text>',
            plain(x),
            plain(y),
            words,
        )
        return mark_safe(box + turned)  # noqa: S308 - both are escaped

    def _session_end(self, height: float) -> Iterator[SafeString]:
        if self.plan.usual.fits:
            return
        x = self.x(self.plan.shop.session)
        yield line(x, _TOP - 8, x, height - _FOOT, 2.5, dash="7 4")
        yield text(x - 5, height - 0.5, "the session ends", "end")

    # -- rows ------------------------------------------------------------------------------------

    def _drawn(self, rows: list[Row]) -> Iterator[SafeString]:
        for number, row in enumerate(rows):
            y = _TOP + number * ROW
            yield line(self.left, y + ROW, WIDTH, y + ROW, 0.5, opacity=0.3)
            yield text(self.left - 6, y + ROW - 9, row.name, "end", size=13 if self.by == "students" else 11)
            yield format_html('<g transform="translate(0 {})">{}</g>', plain(y), joined(row.bars))

    def _students(self) -> list[Row]:
        turns: dict[int, list[SafeString]] = {}
        for entry in self.plan.usual.schedule.entries:
            turns.setdefault(entry.student, []).append(self._bar(entry))
        for run in self.plan.runs:
            for at, (begin, end) in run.times.items():
                turns[run.student - 1].append(self._step(at, begin, end))
        return [Row(str(number + 1), tuple(bars)) for number, bars in sorted(turns.items())]

    def _step(self, at: int, begin: float, end: float) -> SafeString:
        x, width, words = self.x(begin), (end - begin) * self.scale, str(at + 1)
        mark = line(x, 3, x, ROW - 3, 0.75)
        if width < len(words) * _LETTER + 4:
            return mark
        return mark_safe(mark + text(x + 3, _LANE, words, "start", size=10))  # noqa: S308 - both are escaped

    def _bar(self, entry: Entry) -> SafeString:
        shop = self.plan.shop
        x, width = self.x(entry.start + shop.showing), (entry.end - entry.start) * self.scale
        bar = turn(entry.task.needs, x, width)
        if entry.waited * self.scale < 3:
            return bar
        wait = waiting(self.x(entry.ready + shop.showing), x)
        return mark_safe(wait + bar)  # noqa: S308 - both are escaped

    def _places(self) -> list[Row]:
        found: dict[tuple[str, int], list[SafeString]] = {}
        for entry in self.plan.usual.schedule.entries:
            for place, slot in entry.slots:
                found.setdefault((place, slot), []).append(self._taken(entry, place))
        order = list(PLACES)
        keys = sorted(found, key=lambda one: (order.index(one[0]), one[1]))
        return [Row(self._place_name(*one), tuple(found[one])) for one in keys]

    def _taken(self, entry: Entry, place: str) -> SafeString:
        showing = self.plan.shop.showing
        end = entry.released if place == FORGE else entry.end
        x, width = self.x(entry.start + showing), (end - entry.start) * self.scale
        bar = turn((place,), x, (entry.end - entry.start) * self.scale)
        if end > entry.end:
            kept = waiting(self.x(entry.end + showing), x + width)
            bar = mark_safe(bar + kept)  # noqa: S308 - both are escaped
        words = str(entry.student + 1)
        if width < len(words) * _LETTER + 3:
            return bar
        over = ROW - 12 if place == FORGE else _LANE
        return mark_safe(bar + text(x + width / 2, over, words, "middle", size=10))  # noqa: S308

    def _place_name(self, place: str, slot: int) -> str:
        shop = self.plan.shop
        one = PLACES[place][0].capitalize()
        if place == FORGE:
            fire, iron = divmod(slot, shop.irons)
            return f"{one} {fire + 1}, iron {iron + 1}" if shop.irons > 1 else f"{one} {fire + 1}"
        return f"{one} {slot + 1}" if shop.slots[place] > 1 else one
