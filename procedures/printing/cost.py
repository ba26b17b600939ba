"""A cost sheet on paper."""

from __future__ import annotations

from django.template.loader import render_to_string

from procedures.presenting.cost import WORDS, CostSheet

from .layout import pdf_of
from .sheets import Sheet

SHEET = Sheet("A4", "portrait")


def cost_pdf(sheet: CostSheet, title: str, version: str, shop: str, for_whom: str) -> bytes:
    """Return the sheet as PDF; `shop` says what shop it is reckoned for."""
    context = {
        "costs": sheet,
        "title": title,
        "version": version,
        "shop": shop,
        "for_whom": for_whom,
        "words": WORDS,
    }
    return pdf_of(render_to_string("procedures/print/cost.html", context), SHEET)
