"""Patterns at full size as PDF: laid out so that a millimetre is a millimetre, and said so to the printer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.core.cache import cache
from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from procedures.full_size import Sheets, page_svg
from procedures.presenting.edition import content_key
from procedures.presenting.full_size import FullSize

from .card import KEPT, Imprint
from .layout import VARIANT
from .right_to_left import drawable


def full_size_pdf(key: str, wanted: Callable[[], FullSize], imprint: Imprint) -> bytes:
    """Return the sheets as PDF, made once for the same content.

    `key` names the version, the units, the view and the wish; `wanted` is called only when there is no such
    print yet. Raises FullSizeError.
    """
    key = content_key("full-size", key, imprint)
    kept = cache.get(key)
    if isinstance(kept, bytes):
        return kept
    made = _laid_out(*full_size_html(wanted(), imprint))
    cache.set(key, made, KEPT)
    return made


def full_size_html(wanted: FullSize, imprint: Imprint) -> tuple[str, str]:
    """Return the sheets as HTML, and the rule that gives its pages their size. Raises FullSizeError."""
    sheets = wanted.printable()
    inches = wanted.units.length_unit == "in"
    strips = any(one.stacked for one in wanted.chosen)
    context = {
        "title": wanted.document.title,
        "imprint": imprint,
        "paper": sheets.paper,
        "sheets": [
            {"sheet": one, "svg": SafeString(page_svg(one, sheets.paper, inches=inches))}
            for one in sheets.sheets
        ],
        "count": len(sheets.sheets),
        "laying": sheets.laying_words if strips else "",
        "inches": inches,
    }
    return render_to_string("procedures/print/full_size.html", context), _page_css(sheets)


def _page_css(sheets: Sheets) -> str:
    return f"@page {{ size: {sheets.paper.width}mm {sheets.paper.height}mm; margin: 0 }}"


def _laid_out(html: str, page_css: str) -> bytes:
    # The print engine takes half a second to import, and most requests print nothing.
    from weasyprint import CSS, HTML

    from .fetcher import BASE, SiteFetcher

    fetcher = SiteFetcher()
    page = CSS(string=page_css, url_fetcher=fetcher)
    made = HTML(string=drawable(html), base_url=BASE, url_fetcher=fetcher)
    return bytes(made.write_pdf(stylesheets=[page], finisher=_unscaled, pdf_variant=VARIANT, pdf_tags=True))


def _unscaled(document: Any, pdf: Any) -> None:
    """Ask the printer's program not to scale the pages."""
    preferences = pdf.catalog.setdefault("ViewerPreferences", type(pdf.catalog)())
    preferences["PrintScaling"] = "/None"
