"""Tenon: an end set down to a pin with a shoulder."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.drafting.feature import THIN, Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.drafting.setting import PART


class Tenon(Feature):
    """A pin of a section and length at an end, with a square shoulder behind it."""

    id = "tenon"
    title = "Tenon"
    help = "A pin with a square shoulder behind it, to go through another part."
    kind = "end"

    section: Section = declare.section("Section", "Of the pin.")
    length: float = declare.length("Length", "From the shoulder to its end.")

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        if self.section.area >= setting.root.area:
            yield (
                "section",
                say(
                    "A tenon of {section:section} is not thinner than {root:section}: it has no shoulder.",
                    section=self.section,
                    root=setting.root,
                ),
            )

    def long(self, setting: Setting) -> float:
        return self.length

    def volume(self, setting: Setting) -> float:
        return self.section.area * self.length

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        params = {
            "on": PART,
            "end": setting.tip,
            "section": self.section.to_json(),
            "length": self.length,
            "mark": f"shoulder {setting.number + 1}",
        }
        fine = min(self.section.thickness, self.section.width) < THIN
        yield Work(
            Phase.FINE if fine else Phase.DRAW,
            "tenon",
            params,
            {name: name for name in ("section", "length")},
        )

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield seen.long(self.length)
        yield seen.section(self.section)
