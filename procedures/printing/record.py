"""The record of an original on paper."""

from __future__ import annotations

from collections.abc import Callable

from django.core.cache import cache
from django.template.loader import render_to_string

from procedures.presenting import ShownProcedure
from procedures.presenting.edition import content_key

from .card import KEPT, Imprint, qr_svg
from .layout import printed
from .sheets import Sheet, choice

PAPERS = ("A4", "Letter")


def record_sheet(size: str) -> Sheet:
    """Return the paper asked for, upright; "" asks for A4. Raises SheetError."""
    return Sheet(choice("paper", size, PAPERS), "portrait")


def record_pdf(
    key: str, shown: Callable[[], ShownProcedure], sheet: Sheet, imprint: Imprint, address: str
) -> bytes:
    """Return the sheet as PDF, made once for the same content; `address` is where this version is read.

    `key` names the version, the units and the view. A sheet that lacks a font or a photo is not kept.
    """
    key = content_key("record", key, sheet, imprint, address)
    kept = cache.get(key)
    if isinstance(kept, bytes):
        return kept
    made = printed(record_html(shown(), imprint, address), sheet)
    if not made.missing:
        cache.set(key, made.pdf, KEPT)
    return made.pdf


def record_html(shown: ShownProcedure, imprint: Imprint, address: str) -> str:
    """Return the sheet as the HTML that the print engine lays out."""
    context = {"shown": shown, "record": shown.record, "imprint": imprint, "address": address}
    return render_to_string("procedures/print/record.html", {**context, "qr": qr_svg(address)})
