"""Printed sheets: the shop card as PDF."""

from .card import Imprint, card_html, card_pdf, pdf_of
from .sheets import ORIENTATIONS, SIZES, Sheet, SheetError, sheet_of

__all__ = [
    "ORIENTATIONS",
    "SIZES",
    "Imprint",
    "Sheet",
    "SheetError",
    "card_html",
    "card_pdf",
    "pdf_of",
    "sheet_of",
]
