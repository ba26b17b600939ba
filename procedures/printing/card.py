"""The shop card: one procedure on paper, for the wall beside the anvil."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import segno
from django.core.cache import cache
from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from procedures.presenting import ShownProcedure
from procedures.presenting.edition import content_key

from .sheets import Sheet

KEPT = 30 * 24 * 3600  # seconds
QR_SIDE = 21.0  # mm: a phone reads it from a hand's breadth off and from half a metre


@dataclass(frozen=True, slots=True)
class Imprint:
    """What stands on a card besides the procedure: which version of it, from whom, and where it lives."""

    revision: str  # "Revision 2" or "Draft"
    date: str
    author: str
    follow_url: str


def card_pdf(key: str, shown: Callable[[], ShownProcedure], sheet: Sheet, imprint: Imprint) -> bytes:
    """Return the card as PDF; made once for the same content, then served from where it is kept.

    `key` names the version, the units and the view; `shown` is called only when there is no such card yet.
    """
    key = content_key("card", key, sheet, imprint)
    kept = cache.get(key)
    if isinstance(kept, bytes):
        return kept
    made = pdf_of(card_html(shown(), sheet, imprint), sheet)
    cache.set(key, made, KEPT)
    return made


def card_html(shown: ShownProcedure, sheet: Sheet, imprint: Imprint) -> str:
    """Return the card as the HTML that the print engine lays out."""
    context: dict[str, Any] = {
        "shown": shown,
        "sheet": sheet,
        "imprint": imprint,
        "qr": qr_svg(imprint.follow_url),
    }
    return render_to_string("procedures/print/card.html", context)


def pdf_of(html: str, sheet: Sheet) -> bytes:
    """Return a card's HTML laid out on the sheet."""
    # The print engine takes half a second to import, and most requests print nothing.
    from weasyprint import CSS, HTML

    from .fetcher import BASE, SiteFetcher

    page = CSS(string=sheet.page_css, url_fetcher=SiteFetcher())
    laid_out = HTML(string=html, base_url=BASE, url_fetcher=SiteFetcher())
    return bytes(laid_out.write_pdf(stylesheets=[page], pdf_tags=True))


def qr_svg(url: str) -> SafeString:
    """Return an address as a QR code in SVG, QR_SIDE mm a side with its quiet zone."""
    code = segno.make(url, error="m", micro=False)
    modules = code.symbol_size(scale=1, border=2)[0]
    made: str = code.svg_inline(scale=QR_SIDE / modules, border=2, unit="mm", dark="#000", light=None)
    return SafeString(made)
