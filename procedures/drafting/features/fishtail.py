"""Fishtail: an end spread evenly wider."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from procedures.drafting.feature import Feature, Seen, Setting, Size, Work, declare
from procedures.drafting.spreading import spread, spread_sizes
from procedures.drafting.tapering import volume_of


class Fishtail(Feature):
    """An end that fans out from the bar to a width and a thickness."""

    id = "fishtail"
    title = "Fishtail"
    help = "It fans out from the bar to a width and thickness at its end."
    kind = "end"

    length: float = declare.length("Length")
    width: float = declare.length("Width at the end")
    thickness: float = declare.length("Thickness at the end")

    def long(self, setting: Setting) -> float:
        return self.length

    def volume(self, setting: Setting) -> float:
        return volume_of(setting.root, Section.flat(self.width, self.thickness), self.length)

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        yield spread(setting, "fan", self.width, self.thickness)

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield from spread_sizes(seen, self.length, self.width, self.thickness)
