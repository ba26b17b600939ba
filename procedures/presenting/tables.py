"""Tables of the formulas in the reader's units, for pages and for paper."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.formula import Table
from calculators.wording import Sentence, UnitSystem


@dataclass(frozen=True, slots=True)
class ShownRow:
    """A row of a table, with its look or ""."""

    cells: tuple[str, ...]
    colour: str


@dataclass(frozen=True, slots=True)
class ShownTable:
    """A table in the reader's units."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[ShownRow, ...]


def shown_table(table: Table, units: UnitSystem) -> ShownTable:
    """Return a table in the reader's units."""
    rows = tuple(
        ShownRow(
            tuple(one.text(units) if isinstance(one, Sentence) else one for one in row),
            table.colours[place] if table.colours else "",
        )
        for place, row in enumerate(table.rows)
    )
    heads = tuple(one.text(units) if isinstance(one, Sentence) else one for one in table.heads)
    return ShownTable(table.title, heads, rows)
