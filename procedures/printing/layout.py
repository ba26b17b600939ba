"""HTML laid out on paper by the print engine, and what it had to leave out."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePosixPath

from django.template.loader import render_to_string

from .pictographs import legible
from .right_to_left import drawable
from .sheets import Sheet

VARIANT = "pdf/ua-1"  # tagged, with title and language: what a screen reader needs
LEFT_OUT = "<!-- left out -->"  # where a template lets it be said what was


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF, and the names of what could not be found for it."""

    pdf: bytes
    missing: tuple[str, ...] = ()


def pdf_of(html: str, sheet: Sheet) -> bytes:
    """Return HTML laid out on the sheet."""
    return printed(html, sheet).pdf


def printed(html: str, sheet: Sheet) -> Printed:
    """Return HTML laid out on the sheet; a font or photo that is missing costs itself alone, and is named."""
    pdf, missing = _laid_out(html, sheet)
    if missing and LEFT_OUT in html:
        said = render_to_string("procedures/print/_left_out.html", {"missing": missing})
        pdf, _ = _laid_out(html.replace(LEFT_OUT, said), sheet)
    return Printed(pdf, missing)


def _laid_out(html: str, sheet: Sheet) -> tuple[bytes, tuple[str, ...]]:
    # The print engine takes half a second to import, and most requests print nothing.
    from weasyprint import CSS, HTML

    from .fetcher import BASE, SiteFetcher

    fetcher = SiteFetcher()
    page = CSS(string=sheet.page_css, url_fetcher=fetcher)
    made = HTML(string=drawable(legible(html)), base_url=BASE, url_fetcher=fetcher)
    pdf = bytes(made.write_pdf(stylesheets=[page], pdf_variant=VARIANT, pdf_tags=True))
    return pdf, tuple(dict.fromkeys(_named(path) for path in fetcher.missing))


def _named(path: str) -> str:
    """Return what a missing file is called on the paper: "the font Barlow Condensed", "a photo"."""
    if path.endswith(".woff2"):
        return f"the font {PurePosixPath(path).parent.name.replace('-', ' ').title()}"
    return "the style of the card" if path.endswith(".css") else "a photo"
