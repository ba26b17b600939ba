"""How each kind of turn is drawn in a timetable, and the legend that says so. Nothing is said by colour."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from procedures.timetable import ANVIL, FORGE, HELPER, POWER, TEACHER, VICE

from .class_plan import ClassPlan

ROW, BAR = 32.0, 16.0  # the height of a row, and of a bar in it
INK = "currentColor"


def legend(plan: ClassPlan) -> list[tuple[SafeString, str]]:
    """Return a small drawing of each kind of turn that a plan has, and what it is."""
    used = {_shown_place(one.task.needs) for one in plan.usual.schedule.entries}
    kinds = (
        ((FORGE,), "low pale bar", "iron in the fire"),
        ((ANVIL,), "grey bar", "at the anvil"),
        ((VICE,), "box with a stroke", "at the vice"),
        ((POWER,), "black bar", "under the power hammer"),
        ((HELPER,), "pale bar", "at the bench, with a helper"),
        ((), "box", "at the bench"),
        ((TEACHER,), "stroke with a dot", "the teacher looks"),
    )
    found = [
        (_sample(turn(needs, 2, 22), looks), words)
        for needs, looks, words in kinds
        if _shown_place(needs) in used
    ]
    return [*found, (_sample(waiting(2, 24), "dotted line"), "waits")]


def _sample(drawn: SafeString, looks: str) -> SafeString:
    return format_html(
        '<svg class="timetable__sample" width="26" height="22" viewBox="0 {} 26 22"'
        ' role="img" aria-label="{}" fill="{}">{}</svg>',
        plain(ROW - 24),
        looks,
        INK,
        drawn,
    )


def waiting(x: float, to_x: float) -> SafeString:
    return line(x, ROW - 6, to_x, ROW - 6, 1.25, dash="1.5 2.5")


def _shown_place(needs: tuple[str, ...]) -> str:
    """Return the place that a turn at several is drawn as."""
    return next((one for one in (POWER, ANVIL, VICE, FORGE, TEACHER, HELPER) if one in needs), "")


def turn(needs: tuple[str, ...], x: float, width: float) -> SafeString:
    """Return the bar of a turn at some places, on a row whose foot is at ROW."""
    foot = ROW - 3
    top = foot - BAR
    place = _shown_place(needs)
    if place == FORGE:
        return rect(x, foot - 6, width, 6, opacity=0.32)
    if place == POWER:
        return rect(x, top - 1, width, BAR + 1)
    if place == ANVIL:
        return rect(x, top, width, BAR, opacity=0.6)
    if place == TEACHER:
        middle = x + width / 2
        stroke = line(middle, top, middle, foot, 1.5)
        dot = format_html('<circle cx="{}" cy="{}" r="3"/>', plain(middle), plain(top))
        return mark_safe(stroke + dot)  # noqa: S308 - both are escaped
    box = rect(x + 0.5, top + 0.5, max(width - 1, 0.5), BAR - 1, fill="none", stroke=True)
    if place == VICE:
        cross = line(x, foot, x + width, top, 1)
        return mark_safe(box + cross)  # noqa: S308 - both are escaped
    if place == HELPER:
        return rect(x, top, width, BAR, opacity=0.45)
    return box


# -- SVG ---------------------------------------------------------------------------------------------


def plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def joined(parts: Iterator[SafeString] | list[SafeString] | tuple[SafeString, ...]) -> SafeString:
    return mark_safe("".join(parts))  # noqa: S308 - each is escaped


def line(
    x: float, y: float, to_x: float, to_y: float, width: float, *, opacity: float = 1, dash: str = ""
) -> SafeString:
    return format_html(
        '<line x1="{}" y1="{}" x2="{}" y2="{}" stroke="{}" stroke-width="{}"{}{}/>',
        *(plain(one) for one in (x, y, to_x, to_y)),
        INK,
        plain(width),
        format_html(' stroke-opacity="{}"', opacity) if opacity < 1 else "",
        format_html(' stroke-dasharray="{}"', dash) if dash else "",
    )


def rect(
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
        *(plain(one) for one in (x, y, width, height)),
        format_html(' fill="{}"', fill) if fill else "",
        format_html(' stroke="{}" stroke-width="1"', INK) if stroke else "",
        format_html(' fill-opacity="{}"', opacity) if opacity < 1 else "",
    )


def text(x: float, y: float, words: str, anchor: str, size: float = 11) -> SafeString:
    return format_html(
        '<text x="{}" y="{}" text-anchor="{}" font-size="{}">{}</text>',
        plain(x),
        plain(y),
        anchor,
        plain(size),
        words,
    )
