"""Stem: a straight run of even section."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from procedures.drafting.feature import Feature, Seen, Setting, Size, declare


class Stem(Feature):
    """A straight run of one section; the bar itself where no section is said."""

    id = "stem"
    title = "Stem"
    help = "A straight run of one section. A thicker one is upset, a thinner one drawn out."

    inherits = False

    length: float = declare.length("Length")
    section: Section | None = declare.section("Section", "Left out: the bar.", required=False)

    @property
    def states(self) -> Section | None:
        return self.section

    def long(self, setting: Setting) -> float:
        return self.length

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield seen.long(self.length)
        yield seen.section(setting.root)
