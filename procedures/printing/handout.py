"""The class handout: what a class needs together, and the cards of all its procedures, in one document."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from django.core.cache import cache
from django.template.loader import render_to_string

from calculators.wording import UnitSystem
from procedures.presenting import ShownProcedure
from procedures.presenting.edition import content_key

from .card import KEPT, Headings, Imprint, card_context
from .contents import Contents
from .course import GENERAL, ClassTotals, Course
from .layout import printed
from .sheets import Sheet

MOST_PROCEDURES = 20
MOST_STEPS = 250  # of all of them together: half a minute of the print engine


class HandoutError(ValueError):
    """A handout that is not made; the message says why."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A procedure of the handout with what stands on its card."""

    shown: ShownProcedure
    imprint: Imprint


def check_size(procedures: int, steps: int) -> None:
    """Refuse a handout that would take too long to make. Raises HandoutError."""
    if not procedures:
        raise HandoutError("No procedure is ticked: tick those that the class will make.")
    if procedures > MOST_PROCEDURES:
        raise HandoutError(
            f"{procedures} procedures are ticked; a handout holds at most {MOST_PROCEDURES}. "
            "Make two handouts of them."
        )
    if steps > MOST_STEPS:
        raise HandoutError(
            f"These procedures have {steps} steps together; a handout holds at most {MOST_STEPS}. "
            "Leave some out, or make two handouts of them."
        )


def handout_pdf(
    keys: tuple[str, ...],
    entries: Callable[[], tuple[Entry, ...]],
    course: Course,
    sheet: Sheet,
    units: UnitSystem,
    contents: Contents,
) -> bytes:
    """Return the handout as PDF, made once for the same content; `keys` name the versions, in order."""
    key = content_key("handout", *keys, course, sheet, units.id, contents)
    kept = cache.get(key)
    if isinstance(kept, bytes):
        return kept
    made = printed(handout_html(entries(), course, sheet, units, contents), sheet)
    if not made.missing:
        cache.set(key, made.pdf, KEPT)
    return made.pdf


def handout_html(
    entries: tuple[Entry, ...], course: Course, sheet: Sheet, units: UnitSystem, contents: Contents
) -> str:
    """Return the handout as the HTML that the print engine lays out."""
    headings = Headings(2)
    cards = [card_context(one.shown, sheet, one.imprint, contents, headings) for one in entries]
    context = {
        "course": course,
        "cards": cards,
        "totals": ClassTotals(tuple(one.shown for one in entries), course, units),
        "general": GENERAL,
        "kerf": units.size(course.kerf) if course.kerf else "",
        "sheet": sheet,
        "headings": headings,
        "contents": contents,
    }
    return render_to_string("procedures/print/handout.html", context)
