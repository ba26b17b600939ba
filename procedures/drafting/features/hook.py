"""Hook: an end bent back, with or without a taper."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians

from calculators.sections import Section
from calculators.wording import Sentence
from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.drafting.setting import PART
from procedures.drafting.tapering import base_of_taper, end_tapered, tip_too_thick, volume_of
from procedures.engine.shaping.curving import TURNS, depth, plane_of


class Hook(Feature):
    """An end bent round to a hook; its metal tapers to the tip where a section is said."""

    id = "hook"
    title = "Hook"
    help = "An end bent back on itself. With a section at the tip it is tapered first."
    kind = "end"

    inside_diameter: float = declare.length("Inside diameter")
    sweep: float = declare.angle("Sweep", "How far round it goes.", least=20, most=270, default=180.0)
    tip: Section | None = declare.section("Section at the tip", "Left out: no taper.", required=False)
    turn: str = declare.choice("Turns", TURNS, default="up")

    def base(self, setting: Setting) -> Section:
        return base_of_taper(setting, setting.root) if self.tip is not None else setting.root

    def problems(self, setting: Setting) -> Iterator[tuple[str, Sentence]]:
        yield from tip_too_thick(setting, self.tip)

    def long(self, setting: Setting) -> float:
        half_way = setting.root.blend(self.tip, 0.5) if self.tip is not None else setting.root
        deep = depth(half_way, plane_of(self.turn))
        return radians(self.sweep) * (self.inside_diameter + deep) / 2

    def volume(self, setting: Setting) -> float:
        return volume_of(setting.root, self.tip or setting.root, self.long(setting))

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        yield from end_tapered(setting, self.tip)
        params = {
            "on": PART,
            "end": setting.tip,
            "inside_diameter": self.inside_diameter,
            "sweep": self.sweep,
            "turn": self.turn,
        }
        yield Work(Phase.CURL, "loop", params, {name: name for name in ("inside_diameter", "sweep")})

    def miss(self, setting: Setting, seen: Seen) -> float:
        return seen.left_over(seen.own["loop"])

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield from seen.inside("loop", self.inside_diameter, "Inside diameter", diameter=True)
        if self.tip is not None:
            yield seen.thin_end(self.tip, setting.tip)
