"""Patterns at full size, laid out from a replay: mark-out strips, bends, scrolls, rings, leaves, holes.

Pure: no Django. Everything is in mm with Y upwards until a page or a file is written.
"""

from .dxf import dxf_of
from .offer import Offered, Stage, offered
from .pages import Sheet, Sheets, page_svg, sheets_of
from .paper import LAYINGS, MOST_SHEETS, PAPERS, FullSizeError, Paper, laying_of, paper_of
from .pattern import Pattern
from .svg import pattern_svg, preview_svg

__all__ = [
    "LAYINGS",
    "MOST_SHEETS",
    "PAPERS",
    "FullSizeError",
    "Offered",
    "Paper",
    "Pattern",
    "Sheet",
    "Sheets",
    "Stage",
    "dxf_of",
    "laying_of",
    "offered",
    "page_svg",
    "paper_of",
    "pattern_svg",
    "preview_svg",
    "sheets_of",
]
