"""Bend: the bar turns on a radius."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians

from procedures.drafting.feature import Feature, Phase, Seen, Setting, Size, Work, declare
from procedures.engine.shaping.curving import TURNS, depth, plane_of


class Bend(Feature):
    """A bend between two runs: it takes the bar of its arc along the middle line."""

    id = "bend"
    title = "Bend"
    help = "The runs on both sides are measured to where the bend begins."

    angle: float = declare.angle("Angle", "How far the bar turns.", least=1, most=180, default=90.0)
    inside_radius: float = declare.length("Inside radius")
    turn: str = declare.choice("Turns", TURNS, default="up")

    def long(self, setting: Setting) -> float:
        deep = depth(setting.root, plane_of(self.turn))
        return radians(self.angle) * (self.inside_radius + deep / 2)

    def works(self, setting: Setting, taken: float) -> Iterator[Work]:
        params = {
            "where": setting.at(),
            "meaning": "arc_start",
            "angle": self.angle,
            "inside_radius": self.inside_radius,
            "turn": self.turn,
        }
        yield Work(
            Phase.BEND, "bend", params, {"angle": "angle", "inside_radius": "inside_radius", "where": "angle"}
        )

    def miss(self, setting: Setting, seen: Seen) -> float:
        return seen.left_over(seen.own["bend"])

    def sizes(self, setting: Setting, seen: Seen) -> Iterator[Size]:
        yield from seen.inside("bend", self.inside_radius, "Inside radius", diameter=False)
        got = sum(one.angle for one in seen.arcs(seen.own["bend"]))
        yield Size("Angle", self.angle, got, kind="angle")
