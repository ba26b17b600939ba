"""Printed sheets read back: their text, their pages and where things stand on them."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pypdfium2

POINT = 25.4 / 72  # mm
Box = tuple[float, float, float, float]  # left, bottom, right, top [mm]


def pdf_of(response) -> pypdfium2.PdfDocument:
    """The PDF of a response that is one."""
    assert response.status_code == 200
    assert response["Content-Type"] == "application/pdf"
    return pypdfium2.PdfDocument(response.content)


def printed(client, procedure, query: str = "") -> pypdfium2.PdfDocument:
    """The shop card of a procedure."""
    return pdf_of(client.get(f"/p/{procedure.slug}/card.pdf{query}"))


def text_of(document: pypdfium2.PdfDocument, number: int | None = None) -> str:
    """The words of a document, or of one page of it."""
    pages = document if number is None else [document[number]]
    text = " ".join(page.get_textpage().get_text_range() for page in pages)
    return re.sub(r"\s+", " ", text.replace("\u202f", " ").replace("\ufffe", ""))


def boxes_of(page: pypdfium2.PdfPage) -> Iterator[Box]:
    """Where the runs of text stand on a page."""
    words = page.get_textpage()
    for index in range(words.count_rects()):
        yield tuple(one * POINT for one in words.get_rect(index))  # type: ignore[misc]


def overflowing(document: pypdfium2.PdfDocument, margin: float = 5.0) -> list[tuple[int, Box]]:
    """The runs of text that come nearer to an edge of their page than a margin [mm]."""
    found = []
    for number, page in enumerate(document, start=1):
        width, height = (side * POINT for side in page.get_size())
        for box in boxes_of(page):
            left, bottom, right, top = box
            if left < margin or bottom < margin or right > width - margin or top > height - margin:
                found.append((number, box))
    return found
