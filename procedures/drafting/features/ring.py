"""Ring: a whole part welded to a ring."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from calculators.sections import Section
from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.drafting.setting import PART

_UPSET = 1.12  # times as thick, before scarfing: 16 mm to 18 mm in common practice, no source
_SCARF = 1.5  # thicknesses long: 1 to 2 from memory
_ZONE = 2.5  # thicknesses of each end in the weld: our judgement, over the scarf and the lap


class Ring(Feature):
    """A closed ring by its inside diameter, of the bar as it comes; it is all there is of the part."""

    id = "ring"
    title = "Welded ring"
    help = "A whole part by itself: both ends upset and scarfed, bent round and welded."
    alone = True
    inherits = False

    inside_diameter: float = declare.length("Inside diameter")

    def base(self, setting: Setting) -> Section:
        return setting.bar

    def long(self, setting: Setting) -> float:
        return pi * (self.inside_diameter + setting.bar.thickness)

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        thick = setting.bar.thickness
        for end in ("end", "start"):
            where = {"on": PART, "datum": end, "length": 1.5 * thick}
            upset = {"where": where, "target": setting.bar.scaled(_UPSET).to_json()}
            yield Work(Phase.UPSET, "upset", upset, {"where": "inside_diameter"})
        for end, face in (("end", "up"), ("start", "down")):
            scarf = {
                "on": PART,
                "end": end,
                "face": face,
                "length": _SCARF * thick,
                "mark": f"shoulder {end}",
            }
            yield Work(Phase.WELD, "scarf", scarf, {})
        weld = {"on": PART, "zone": _ZONE * thick, "dressed": setting.bar.to_json()}
        yield Work(Phase.WELD, "weld_ring", weld, {"on": "inside_diameter", "zone": "inside_diameter"})

    def _inside(self, seen: Seen) -> float:
        return seen.branch.length / pi - seen.middle.thickness

    def miss(self, setting: Setting, seen: Seen) -> float:
        return (self._inside(seen) - self.inside_diameter) * pi

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield Size("Inside diameter", self.inside_diameter, self._inside(seen), kind="size")
