"""All that is chosen of a print, as its address holds it and as it is remembered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from calculators.wording import UNIT_SYSTEMS

from .contents import Contents, contents_of
from .sheets import Sheet, choice, sheet_of


@dataclass(frozen=True, slots=True)
class Choices:
    """The sheet, what it holds, and the units to print in: "" for those that the reader reads in."""

    sheet: Sheet = field(default_factory=Sheet)
    contents: Contents = field(default_factory=Contents)
    units: str = ""

    @property
    def query(self) -> str:
        """The query that asks for it."""
        return self.sheet.query + (f"&units={self.units}" if self.units else "") + self.contents.query

    @property
    def remembered(self) -> str:
        """The same without the part, which belongs to one procedure."""
        anywhere = Contents("", self.contents.photos, self.contents.notes)
        return Choices(self.sheet, anywhere, self.units).query


def choices_of(given: Mapping[str, str], parts: Iterable[str] = ()) -> Choices:
    """Return what an address asks for; `parts` are the keys of the parts there are. Raises SheetError."""
    asked = {name: given.get(name, "") for name in ("size", "orientation", "hand")}
    units = given.get("units", "")
    return Choices(
        sheet_of(**asked),
        contents_of(given.get("part", ""), given.get("photos", ""), given.get("notes", ""), parts),
        choice("system of units", units, tuple(UNIT_SYSTEMS)) if units else "",
    )
