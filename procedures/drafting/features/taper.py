"""Taper: a run that gets evenly thinner, to a section or to a point."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.drafting.feature import THIN, Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.drafting.tapering import base_of_taper, tapered, volume_of


class Taper(Feature):
    """A taper from the run on one side to that on the other, or out to a section or a point."""

    id = "taper"
    title = "Taper"
    help = "At an end it goes to the section said, or to a point; between runs from one to the other."

    length: float = declare.length("Length", "From the thick end to the thin one.")
    to: Section | None = declare.section(
        "To the section", "Such as 4 sq, or point. Left out: the run that follows.", required=False
    )

    def faces(self, before: Section | None, after: Section | None) -> tuple[Section, Section] | None:
        if before is None:
            return (self.to, after) if self.to is not None and after is not None else None
        other = self.to or after
        return (before, other) if other is not None else None

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        if setting.end and self.to is None:
            yield "to", say("This is an end of the piece: say what it tapers to, such as a point.")
        elif setting.first.is_close(setting.last):
            yield (
                "to",
                say("Both sides are {section:section}: there is nothing to taper.", section=setting.first),
            )
        elif min(setting.first.area, setting.last.area) > setting.bar.area:
            yield (
                "to",
                say("Its thin end is thicker than the bar, {bar:section}.", bar=setting.bar),
            )

    def base(self, setting: Setting) -> Section:
        return base_of_taper(setting, self._ends(setting)[0])

    def _ends(self, setting: Setting) -> tuple[Section, Section]:
        first, last = setting.first, setting.last
        return (first, last) if first.area >= last.area else (last, first)

    def _thin_side(self, setting: Setting) -> str:
        return "end" if setting.first.area >= setting.last.area else "start"

    def long(self, setting: Setting) -> float:
        return self.length

    def volume(self, setting: Setting) -> float:
        return volume_of(setting.first, setting.last, self.length)

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        thick, thin = self._ends(setting)
        fine = min(thin.thickness, thin.width) < THIN
        yield tapered(
            setting,
            thick,
            thin,
            self._thin_side(setting),
            present=self.base(setting),
            phase=Phase.FINE if fine else Phase.DRAW,
            field="to",
        )

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield seen.long(self.length)
        yield seen.thin_end(self._ends(setting)[1], self._thin_side(setting))
