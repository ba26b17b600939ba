"""The timetable of a class on paper: the answer, the chart, who begins what when, and the cautions."""

from __future__ import annotations

from django.template.loader import render_to_string

from procedures.presenting.class_chart import Chart
from procedures.presenting.class_plan import ClassPlan
from procedures.presenting.class_signs import legend

from .card import titled
from .layout import pdf_of
from .sheets import Sheet

SHEET = Sheet("A4", "landscape")
MOST_COLUMNS = 16  # steps across the sheet


def timetable_pdf(plan: ClassPlan, title: str, version: str, by: str = "students") -> bytes:
    """Return the timetable as PDF; `plan` has no error."""
    return pdf_of(timetable_html(plan, title, version, by), SHEET)


def timetable_html(plan: ClassPlan, title: str, version: str, by: str = "students") -> str:
    """Return the timetable as the HTML that the print engine lays out."""
    context = {
        "plan": plan,
        "title": title,
        "version": version,
        "chart": titled(Chart(plan, by).svg()),
        "legend": [(titled(drawn), words) for drawn, words in legend(plan)],
        "tables": _tables(plan),
        "sheet": SHEET,
    }
    return render_to_string("procedures/print/timetable.html", context)


def _tables(plan: ClassPlan) -> list[dict[str, object]]:
    """Return the times in as many tables as the sheet is wide for, each with its steps."""
    count = len(plan.steps)
    rows = plan.rows
    found: list[dict[str, object]] = []
    for first in range(0, count, MOST_COLUMNS):
        part = slice(first, first + MOST_COLUMNS)
        heads = [(number + 1, one.title) for number, one in enumerate(plan.steps)][part]
        lines = [(who, cells[part], ends) for who, cells, ends in rows]
        found.append({"heads": heads, "rows": lines, "is_last": first + MOST_COLUMNS >= count})
    return found
