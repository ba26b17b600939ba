"""Leaf: an end spread to a leaf."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from procedures.drafting.feature import Feature, Seen, Setting, Size, Work, declare
from procedures.drafting.spreading import spread, spread_sizes


class Leaf(Feature):
    """A leaf of two curves that meet at the tip, of one thickness."""

    id = "leaf"
    title = "Leaf"
    help = "Two curves that meet at the tip, of one thickness."
    kind = "end"

    length: float = declare.length("Length")
    width: float = declare.length("Greatest width")
    thickness: float = declare.length("Thickness")

    def base(self, setting: Setting) -> Section:
        return setting.bar  # drawn down before, it would only have to be spread farther

    def long(self, setting: Setting) -> float:
        return self.length

    def volume(self, setting: Setting) -> float:
        return 2 / 3 * self.width * self.thickness * self.length

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        yield spread(setting, "leaf", self.width, self.thickness)

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield from spread_sizes(seen, self.length, self.width, self.thickness)
