"""Flattened run: beaten to a width and a thickness."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.drafting.feature import THIN, Feature, Phase, Seen, Setting, Size, Work, declare


class Flattened(Feature):
    """A run or an end beaten flat, wider than the bar and thinner."""

    id = "flat"
    title = "Flattened run"
    help = "Beaten wider than the bar and thinner: a pad to screw through, a palm, a blade's root."

    width: float = declare.length("Width")
    thickness: float = declare.length("Thickness")
    length: float = declare.length("Length")

    @property
    def _section(self) -> Section:
        return Section.flat(self.width, self.thickness)

    @property
    def states(self) -> Section | None:
        return self._section

    def base(self, setting: Setting) -> Section:
        return setting.bar

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        bar = setting.bar
        if self.thickness >= bar.thickness:
            yield (
                "thickness",
                say("It is not thinner than the bar, {bar:section}: call it a stem of its section.", bar=bar),
            )
        elif self._section.area > bar.area:
            yield (
                "width",
                say(
                    "{section:section} holds more metal than the bar, {bar:section}: upset it, or begin with "
                    "thicker bar.",
                    section=self._section,
                    bar=bar,
                ),
            )

    def long(self, setting: Setting) -> float:
        return self.length

    def volume(self, setting: Setting) -> float:
        return self._section.area * self.length

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        params = {"where": setting.run(), "thickness": self.thickness, "width": self.width}
        phase = Phase.FINE if self.thickness < THIN else Phase.DRAW
        fields = {"thickness": "thickness", "width": "width", "where": "length"}
        yield Work(phase, "flatten", params, fields)

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield seen.long(self.length)
        yield seen.section(self._section)
