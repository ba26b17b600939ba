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

from procedures.timetable import ANVIL, FORGE, HELPER, PLACES, POWER, TEACHER, VICE, Entry

from .class_plan import ClassPlan

WIDTH = 1000.0
_LEFT = {"students": 34.0, "places": 104.0}
_TOP, _ROW, _LANE, _BAR = 26.0, 32.0, 11.0, 16.0
_FOOT = 6.0
_LETTER = 4.6  # width of a figure at 9
_TICKS = (5, 10, 15, 30, 60, 120, 240)  # minutes
_MOST_TICKS = 13
_INK = "currentColor"


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
        height = _TOP + len(rows) * _ROW + _FOOT
        parts = [*self._frame(height), *self._drawn(rows), *self._session_end(height)]
        return format_html(
            '<svg class="timetable__chart" viewBox="0 0 {} {}" role="img" aria-label="{}"'
            ' font-family="Barlow Condensed, sans-serif" font-size="11" fill="{}">{}</svg>',
            _plain(WIDTH),
            _plain(height),
            self._label(),
            _INK,
            _joined(parts),
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
            yield _line(self.x(at), _TOP - 6, self.x(at), foot, 0.75, opacity=0.3)
            yield _text(self.x(at), 14, self.plan.clock(at), "start" if not at else "middle")
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
        box = _rect(self.x(begin), _TOP, width, tall, fill="none", stroke=True)
        if width < 12 or tall < len(words) * 5:
            return box
        x, y = self.x(begin) + width / 2 + 4, _TOP + tall / 2
        turned = format_html(
            '<text x="{0}" y="{1}" text-anchor="middle" font-size="12"'
            ' transform="rotate(-90 {0} {1})">{2}</text>',
            _plain(x),
            _plain(y),
            words,
        )
        return mark_safe(box + turned)  # noqa: S308 - both are escaped

    def _session_end(self, height: float) -> Iterator[SafeString]:
        if self.plan.usual.fits:
            return
        x = self.x(self.plan.shop.session)
        yield _line(x, _TOP - 8, x, height - _FOOT, 2.5, dash="7 4")
        yield _text(x - 5, height - 0.5, "the session ends", "end")

    # -- rows ------------------------------------------------------------------------------------

    def _drawn(self, rows: list[Row]) -> Iterator[SafeString]:
        for number, row in enumerate(rows):
            y = _TOP + number * _ROW
            yield _line(self.left, y + _ROW, WIDTH, y + _ROW, 0.5, opacity=0.3)
            yield _text(
                self.left - 6, y + _ROW - 9, row.name, "end", size=13 if self.by == "students" else 11
            )
            yield format_html('<g transform="translate(0 {})">{}</g>', _plain(y), _joined(row.bars))

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
        mark = _line(x, 3, x, _ROW - 3, 0.75)
        if width < len(words) * _LETTER + 4:
            return mark
        return mark_safe(mark + _text(x + 3, _LANE, words, "start", size=10))  # noqa: S308 - both are escaped

    def _bar(self, entry: Entry) -> SafeString:
        shop = self.plan.shop
        x, width = self.x(entry.start + shop.showing), (entry.end - entry.start) * self.scale
        bar = _turn(entry.task.needs, x, width)
        if entry.waited * self.scale < 3:
            return bar
        wait = _waiting(self.x(entry.ready + shop.showing), x)
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
        bar = _turn((place,), x, (entry.end - entry.start) * self.scale)
        if end > entry.end:
            kept = _waiting(self.x(entry.end + showing), x + width)
            bar = mark_safe(bar + kept)  # noqa: S308 - both are escaped
        words = str(entry.student + 1)
        if width < len(words) * _LETTER + 3:
            return bar
        over = _ROW - 12 if place == FORGE else _LANE
        return mark_safe(bar + _text(x + width / 2, over, words, "middle", size=10))  # noqa: S308

    def _place_name(self, place: str, slot: int) -> str:
        shop = self.plan.shop
        one = PLACES[place][0].capitalize()
        if place == FORGE:
            fire, iron = divmod(slot, shop.irons)
            return f"{one} {fire + 1}, iron {iron + 1}" if shop.irons > 1 else f"{one} {fire + 1}"
        return f"{one} {slot + 1}" if shop.slots[place] > 1 else one


def legend(plan: ClassPlan) -> list[tuple[SafeString, str]]:
    """Return a small drawing of each kind of turn that a plan has, and what it is."""
    used = {_shown_place(one.task.needs) for one in plan.usual.schedule.entries}
    kinds = (
        ((FORGE,), "iron in the fire"),
        ((ANVIL,), "at the anvil"),
        ((VICE,), "at the vice"),
        ((POWER,), "under the power hammer"),
        ((), "at the bench"),
        ((TEACHER,), "the teacher looks"),
    )
    drawn = [(_turn(needs, 2, 22), words) for needs, words in kinds if _shown_place(needs) in used]
    return [(_sample(one), words) for one, words in [*drawn, (_waiting(2, 24), "waits")]]


def _sample(drawn: SafeString) -> SafeString:
    return format_html(
        '<svg class="timetable__sample" width="26" height="22" viewBox="0 {} 26 22"'
        ' aria-hidden="true" focusable="false" fill="{}">{}</svg>',
        _plain(_ROW - 24),
        _INK,
        drawn,
    )


def _waiting(x: float, to_x: float) -> SafeString:
    return _line(x, _ROW - 6, to_x, _ROW - 6, 1.25, dash="1.5 2.5")


def _shown_place(needs: tuple[str, ...]) -> str:
    """Return the place that a turn at several is drawn as."""
    return next((one for one in (POWER, ANVIL, VICE, FORGE, TEACHER, HELPER) if one in needs), "")


def _turn(needs: tuple[str, ...], x: float, width: float) -> SafeString:
    """Return the bar of a turn at some places, on a row whose foot is at _ROW."""
    foot = _ROW - 3
    top = foot - _BAR
    place = _shown_place(needs)
    if place == FORGE:
        return _rect(x, foot - 6, width, 6, opacity=0.32)
    if place == POWER:
        return _rect(x, top - 1, width, _BAR + 1)
    if place == ANVIL:
        return _rect(x, top, width, _BAR, opacity=0.6)
    if place == TEACHER:
        middle = x + width / 2
        stroke = _line(middle, top, middle, foot, 1.5)
        dot = format_html('<circle cx="{}" cy="{}" r="3"/>', _plain(middle), _plain(top))
        return mark_safe(stroke + dot)  # noqa: S308 - both are escaped
    box = _rect(x + 0.5, top + 0.5, max(width - 1, 0.5), _BAR - 1, fill="none", stroke=True)
    if place == VICE:
        cross = _line(x, foot, x + width, top, 1)
        return mark_safe(box + cross)  # noqa: S308 - both are escaped
    if place == HELPER:
        return _rect(x, top, width, _BAR, opacity=0.45)
    return box


# -- SVG ---------------------------------------------------------------------------------------------


def _plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _joined(parts: Iterator[SafeString] | list[SafeString] | tuple[SafeString, ...]) -> SafeString:
    return mark_safe("".join(parts))  # noqa: S308 - each is escaped


def _line(
    x: float, y: float, to_x: float, to_y: float, width: float, *, opacity: float = 1, dash: str = ""
) -> SafeString:
    return format_html(
        '<line x1="{}" y1="{}" x2="{}" y2="{}" stroke="{}" stroke-width="{}"{}{}/>',
        *(_plain(one) for one in (x, y, to_x, to_y)),
        _INK,
        _plain(width),
        format_html(' stroke-opacity="{}"', opacity) if opacity < 1 else "",
        format_html(' stroke-dasharray="{}"', dash) if dash else "",
    )


def _rect(
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    fill: str = "",
    stroke: bool = False,
    opacity: float = 1,
) -> SafeString:
    return format_html(
        '<rect x="{}" y="{}" width="{}" height="{}"{}{}{}/>',
        *(_plain(one) for one in (x, y, width, height)),
        format_html(' fill="{}"', fill) if fill else "",
        format_html(' stroke="{}" stroke-width="1"', _INK) if stroke else "",
        format_html(' fill-opacity="{}"', opacity) if opacity < 1 else "",
    )


def _text(x: float, y: float, words: str, anchor: str, size: float = 11) -> SafeString:
    return format_html(
        '<text x="{}" y="{}" text-anchor="{}" font-size="{}">{}</text>',
        _plain(x),
        _plain(y),
        anchor,
        _plain(size),
        words,
    )
