"""The bench card: the tables a shop wants on its wall, reckoned by the calculators' own formulas, as PDF."""

from __future__ import annotations

from dataclasses import dataclass

from django.core.cache import cache
from django.template.loader import render_to_string

from calculators.bench_tables import bench_tables
from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures import notices
from procedures.presenting.edition import content_key
from procedures.presenting.tables import shown_table

from .card import KEPT
from .layout import printed
from .sheets import ORIENTATIONS, Sheet, choice

_SIDES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4), "A3": (297.0, 420.0)}  # mm
PAPERS = tuple(_SIDES)
_NOTES = (
    "Steel of 7850 kg/m³. A heat is taken from 1150 °C down to 850 °C; at the anvil it is good to a factor"
    " of 1.4. Rings are measured on the middle of the bar; for a fire weld add about a third of the"
    " thickness. Rivets fill a hole 0.5 mm (1/64 in) wider than they are. Drawn bar loses its scale besides.",
    "Colours by eye in dull light: Chapman, Workshop Technology, 1972, and Stirling, 1905, who differ by 100"
    " to 150 degrees Celsius at the same word; tempering by Ilgen, Forge Work, 1912, and a stockholder's"
    " chart. The rest is geometry and the cooling of hot bar; the calculators of this site show every sum."
    ""
    f" {notices.NOT_CERTIFIED}",
)


@dataclass(frozen=True, slots=True)
class BenchSheet(Sheet):
    """A paper for the wall: one of PAPERS."""

    @property
    def sides(self) -> tuple[float, float]:
        """Its width and height [mm]."""
        short, long = _SIDES[self.size]
        return (long, short) if self.is_wide else (short, long)


def bench_sheet(size: str, orientation: str) -> BenchSheet:
    """Return the paper asked for; "" asks for A4 upright. Raises SheetError."""
    ways = tuple(reversed(ORIENTATIONS))
    return BenchSheet(choice("paper", size, PAPERS), choice("way to lay it", orientation, ways))


def bench_card_pdf(sheet: BenchSheet, units: UnitSystem) -> bytes:
    """Return the bench card as PDF, made once for a paper and a system of units."""
    key = content_key("bench-card", sheet, units.id)
    kept = cache.get(key)
    if isinstance(kept, bytes):
        return kept
    made = printed(bench_card_html(sheet, units), sheet)
    if not made.missing:
        cache.set(key, made.pdf, KEPT)
    return made.pdf


def bench_card_html(sheet: BenchSheet, units: UnitSystem) -> str:
    """Return the bench card as the HTML that the print engine lays out."""
    tables = [shown_table(one, units) for one in bench_tables(units)]
    notes = [retold(one, units) for one in _NOTES]
    context = {"tables": tables, "sheet": sheet, "units": units, "notes": notes}
    return render_to_string("procedures/print/bench_card.html", context)
