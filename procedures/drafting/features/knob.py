"""Knob: a short run thicker than the bar, upset."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.drafting.feature import Feature, Seen, Setting, Size, declare


class Knob(Feature):
    """A thick place, in the middle or at an end: a boss, a ball before it is rounded."""

    id = "knob"
    title = "Upset knob"
    help = "A short run thicker than the bar. It is upset before anything else."

    section: Section = declare.section("Section", "How thick it is.")
    length: float = declare.length("Length")

    @property
    def states(self) -> Section | None:
        return self.section

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        if self.section.area <= setting.bar.area:
            yield (
                "section",
                say(
                    "A knob of {section:section} is no thicker than the bar, {bar:section}: call it a stem.",
                    section=self.section,
                    bar=setting.bar,
                ),
            )

    def long(self, setting: Setting) -> float:
        return self.length

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield seen.long(self.length)
        yield seen.section(self.section)
