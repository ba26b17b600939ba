"""Printed sheets: the shop card and the class handout as PDF."""

from .card import Imprint, card_html, card_pdf
from .contents import Contents, contents_of
from .layout import pdf_of
from .sheets import HANDS, ORIENTATIONS, SIZES, Sheet, SheetError, sheet_of

__all__ = [
    "HANDS",
    "ORIENTATIONS",
    "SIZES",
    "Contents",
    "Imprint",
    "Sheet",
    "SheetError",
    "card_html",
    "card_pdf",
    "contents_of",
    "pdf_of",
    "sheet_of",
]
