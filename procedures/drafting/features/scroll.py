"""Scroll: an end rolled up to a spiral, with or without a taper."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.formulas import archimedes_spiral, logarithmic_spiral
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.drafting.setting import PART
from procedures.drafting.tapering import base_of_taper, end_tapered, tip_too_thick, volume_of
from procedures.engine.shaping.curving import TURNS

LAWS = {"archimedes": "evenly spaced", "logarithmic": "opening in proportion"}


class Scroll(Feature):
    """A scroll by its radii on the middle line and its turns; its metal tapers to the tip."""

    id = "scroll"
    title = "Scroll"
    help = "Radii are those of the middle line. With a section at the tip it is tapered first."
    kind = "end"

    inner: float = declare.length("Inner radius", "At the tip.")
    outer: float = declare.length("Outer radius", "Where it begins.")
    turns: float = declare.number("Turns", above=0, most=20)
    tip: Section | None = declare.section("Section at the tip", "Left out: no taper.", required=False)
    law: str = declare.choice("Opens", LAWS, default="archimedes")
    turn: str = declare.choice("Turns to", TURNS, default="up")

    def base(self, setting: Setting) -> Section:
        return base_of_taper(setting, setting.root) if self.tip is not None else setting.root

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        yield from tip_too_thick(setting, self.tip)
        if self.inner >= self.outer:
            yield (
                "outer",
                say("A scroll opens outward: its outer radius is more than {inner:size}.", inner=self.inner),
            )

    def long(self, setting: Setting) -> float:
        law = archimedes_spiral if self.law == "archimedes" else logarithmic_spiral
        return law.spiral_length(self.inner, max(self.outer, self.inner), self.turns)

    def volume(self, setting: Setting) -> float:
        return volume_of(setting.root, self.tip or setting.root, self.long(setting))

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        yield from end_tapered(setting, self.tip)
        params = {
            "on": PART,
            "end": setting.tip,
            "inner": self.inner,
            "outer": self.outer,
            "turns": self.turns,
            "law": self.law,
            "turn": self.turn,
        }
        yield Work(Phase.CURL, "scroll", params, {name: name for name in ("inner", "outer", "turns")})

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield Size("Bar in the spiral", self.long(setting), seen.length)
        if self.tip is not None:
            yield seen.thin_end(self.tip, setting.tip)
